package scene

import (
	"fmt"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

// Files just under the size that counts, of many small entries: where a list is
// looked through for every entry of another, they show it.
func TestLargeScenes(t *testing.T) {
	const mud = "[[target]]\nname = \"mud\"\ncolour = \"lab(38 4 9)\"\n"
	many := func(n int, form string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, form, i)
		}
		return b.String()
	}
	for what, text := range map[string]string{
		"targets":    "format = 1\n" + many(24_000, "[[target]]\nname = \"%d\"\ncolour = \"#fff\"\n"),
		"photos":     "format = 1\n" + many(26_000, "[[photo]]\nname = \"%d\"\nfile = \"a\"\n") + mud,
		"spots":      "format = 1\n" + many(6_000, "[[photo]]\nname = \"%d\"\nfile = \"a\"\n") + many(9_000, "[[target]]\nname = \"%d\"\ncolour = \"#fff\"\nat = {photo = \"5999\", x = 0, y = 0}\n"),
		"keep never": "format = 1\n[limits]\nkeep = [" + many(50_000, "\"k%d\",") + "]\nnever = [" + many(50_000, "\"n%d\",") + "]\n" + mud,
		"keep only":  "format = 1\n[limits]\nkeep = [" + many(50_000, "\"k%d\",") + "]\nonly = [" + many(50_000, "\"k%d\",") + "]\n" + mud,
		"groups":     "format = 1\n[limits]\nkeep = [" + many(30_000, "\"k%d\",") + "]\nat-most-one = [" + many(30_000, "[\"g%d\", \"h\"],") + "]\n" + mud,
		"planes":     "format = 1\n[[photo]]\nname = \"a\"\nfile = \"a\"\nplanes = [" + many(60_000, "\"sky=0:0.%d\",") + "]\n" + mud,
		"keys":       "format = 1\n" + many(90_000, "a%d = 1\n") + mud,
		"depth":      "format = " + strings.Repeat("[", 900_000) + "\n",
		"quotation":  "format = 1\ntitle = \"" + strings.Repeat("é", 400_000) + "\x01\"\n" + mud,
	} {
		if len(text) >= bounded.Size {
			t.Errorf("%s: %d bytes are too many to count", what, len(text))
		}
		bounded.Work(t, len(text), func() {
			if _, err := Parse("s.toml", []byte(text)); err != nil {
				bounded.Refusal(t, err, "s.toml", "; ")
			}
		})
		if t.Failed() {
			t.Fatal(what)
		}
	}
}
