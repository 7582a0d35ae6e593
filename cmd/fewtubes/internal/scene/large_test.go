package scene

import (
	"bytes"
	"slices"
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

// The text a page saves into may be as large, and have little in common with
// the scene.
func TestLargeUpdates(t *testing.T) {
	text := []byte("format = 1\n" + bounded.Many(20_000, "[[target]]\nname = \"%d\"\ncolour = \"#fff\"\n"))
	old, err := Parse("s.toml", text)
	if err != nil {
		t.Fatal(err)
	}
	for name, change := range map[string]func(i int, target *Target){
		"every name": func(i int, target *Target) { target.Name = "new " + target.Name },
		"every area": func(i int, target *Target) { target.Area = 2 },
		"the order":  func(i int, target *Target) { *target = old.Targets[len(old.Targets)-1-i] },
	} {
		for _, n := range []int{500, len(old.Targets)} {
			changed := old
			changed.Targets = slices.Clone(old.Targets[:n])
			for i := range changed.Targets {
				change(i, &changed.Targets[i])
			}
			var got []byte
			bounded.Work(t, len(text), func() { got, _ = Update(text, changed) })
			back, err := Parse("s.toml", got)
			if err != nil || !bytes.Equal(Format(back), Format(changed)) {
				t.Errorf("%s of %d targets does not read back: %v", name, n, err)
			}
		}
	}
}
