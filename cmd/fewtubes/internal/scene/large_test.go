package scene

import (
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

// Files just under the size that counts, of many small entries: where a list is
// looked through for every entry of another, they show it.
func TestLargeScenes(t *testing.T) {
	const mud = "[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\n"
	bounded.Large(t, map[string]string{
		"targets":    "format = 1\n" + bounded.Many(24_000, "[[target]]\nname = \"%d\"\ncolour = \"#fff\"\n"),
		"photos":     "format = 1\n" + bounded.Many(26_000, "[[photo]]\nname = \"%d\"\nfile = \"a\"\n") + mud,
		"spots":      "format = 1\n" + bounded.Many(6_000, "[[photo]]\nname = \"%d\"\nfile = \"a\"\n") + bounded.Many(9_000, "[[target]]\nname = \"%d\"\ncolour = \"#fff\"\nat = {photo = \"5999\", x = 0, y = 0}\n"),
		"keep never": "format = 1\n[limits]\nkeep = [" + bounded.Many(50_000, "\"k%d\",") + "]\nnever = [" + bounded.Many(50_000, "\"n%d\",") + "]\n" + mud,
		"keep only":  "format = 1\n[limits]\nkeep = [" + bounded.Many(50_000, "\"k%d\",") + "]\nonly = [" + bounded.Many(50_000, "\"k%d\",") + "]\n" + mud,
		"groups":     "format = 1\n[limits]\nkeep = [" + bounded.Many(30_000, "\"k%d\",") + "]\nat-most-one = [" + bounded.Many(30_000, "[\"g%d\", \"h\"],") + "]\n" + mud,
		"planes":     "format = 1\n[[photo]]\nname = \"a\"\nfile = \"a\"\nplanes = [" + bounded.Many(60_000, "\"sky=0:0.%d\",") + "]\n" + mud,
		"keys":       "format = 1\n" + bounded.Many(90_000, "a%d = 1\n") + mud,
		"depth":      "format = " + strings.Repeat("[", 900_000) + "\n",
		"quotation":  "format = 1\ntitle = \"" + strings.Repeat("é", 400_000) + "\x01\"\n" + mud,
	}, func(text []byte) error {
		_, err := Parse("s.toml", text)
		return err
	}, "s.toml", "; ")
}
