package owntubes

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

func builtin(t testing.TB) *catalog.Catalogue {
	t.Helper()
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func apply(t *testing.T, text string) *catalog.Catalogue {
	t.Helper()
	f, err := Parse("own.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	c, leftOut, err := f.Apply(builtin(t))
	if err != nil || len(leftOut) > 0 {
		t.Fatal(err, leftOut)
	}
	return c
}

func TestLikeSetsPriceSizeAndHave(t *testing.T) {
	c := apply(t, `format = 1
[[tube]]
like = "ultramarine-blue"
price = 7.55
size-ml = 37
[[tube]]
like = "cobalt-blue"
id = "my-cobalt"
have = false
`)
	before, _ := builtin(t).Find("ultramarine-blue")
	after, _ := c.Find("ultramarine-blue")
	if after.Price != 755 || after.SizeML != 37 || !after.Have || after.Paint != before.Paint || after.Name != before.Name {
		t.Errorf("%+v", after)
	}
	if len(c.Tubes()) != len(builtin(t).Tubes())+1 {
		t.Errorf("%d tubes", len(c.Tubes()))
	}
	mine, ok := c.Find("my-cobalt")
	if other, _ := c.Find("cobalt-blue"); !ok || mine.Have || mine.Price != other.Price || other.Have {
		t.Errorf("my-cobalt %+v", mine)
	}
	if position(c, "ultramarine-blue") != position(builtin(t), "ultramarine-blue") {
		t.Error("a replaced tube moved")
	}
}

func position(c *catalog.Catalogue, id string) int {
	for i, t := range c.Tubes() {
		if t.ID == id {
			return i
		}
	}
	return -1
}

func TestInsteadLeavesTheCatalogueOut(t *testing.T) {
	c := apply(t, `format = 1
catalogue = "instead"
[[tube]]
like = "titanium-white"
[[tube]]
id = "grey"
mix = [{tube = "titanium-white", parts = 3}, {tube = "ivory-black", parts = 1}]
[[tube]]
id = "paler-grey"
mix = [{tube = "grey", parts = 1}, {tube = "titanium-white", parts = 1}]
`)
	if n := len(c.Tubes()); n != 3 {
		t.Fatalf("%d tubes", n)
	}
	pale, _ := c.Find("paler-grey")
	b := builtin(t)
	white, _ := b.Find("titanium-white")
	black, _ := b.Find("ivory-black")
	var want film.Paint
	film.Mix(&want, []film.Paint{white.Paint, black.Paint}, []float64{7.0 / 8, 1.0 / 8})
	m, n := pale.Paint.Masstone(film.Dry), want.Masstone(film.Dry)
	if de := colour.DE2000(colour.D65().Lab(&m), colour.D65().Lab(&n)); de > 1e-6 || pale.Basis != catalog.Estimated {
		t.Errorf("%s %g", pale.Basis, de)
	}
}

// A tube typed as two colours has that masstone exactly and that tint nearly.
func TestColoursBecomeAPaint(t *testing.T) {
	c := apply(t, `format = 1
[[tube]]
id = "marsh-green"
masstone = "lab(31 -9 6)"
tint = "lab(76 -14 7)"
`)
	tube, _ := c.Find("marsh-green")
	s := catalog.NewSwatch(&tube, c.White(), colour.D65(), film.Dry)
	if de := colour.DE2000(s.Masstone, colour.Lab{L: 31, A: -9, B: 6}); de > 0.01 {
		t.Errorf("masstone %v", s.Masstone)
	}
	if de := colour.DE2000(s.Tint, colour.Lab{L: 76, A: -14, B: 7}); de > 1.5 {
		t.Errorf("tint %v, %.2f off", s.Tint, de)
	}
	if tube.Basis != catalog.Estimated || !tube.Have {
		t.Errorf("%+v", tube)
	}
}

// However a tube is given, its id, its pigments and what it is mixed of bring their
// hazards, cautions and lightfastness along; the file may add to the hazards, and
// say another caution and class.
func TestKnownHazardsComeAlong(t *testing.T) {
	spectrum := "[" + strings.Repeat("0.5, ", 18) + "0.5]"
	const colours = "masstone = \"lab(78 15 85)\"\ntint = \"lab(92 2 45)\"\n"
	film := "surface = {k1 = 0.03, k2 = 0.65}\nwavelengths = {start = 380, step = 20}\nk = " + spectrum + "\ns = " + spectrum + "\n"
	for what, c := range map[string]struct {
		text                            string
		hazards, caution, lightfastness string
	}{
		"two colours, a known id":   {"id = \"cadmium-orange\"\n" + colours, "cadmium selenium", "Cadmium", "I"},
		"k and s, a known id":       {"id = \"alizarin-crimson\"\n" + film, "", "No major hazard", "III"},
		"two colours, a pigment":    {"id = \"x\"\npigments = [\"PY35\"]\n" + colours, "cadmium", "Cadmium", "I"},
		"k and s, pigments":         {"id = \"x\"\npigments = [\"PW6\", \"PY37\", \"PR83\"]\n" + film, "cadmium", "Cadmium", "III"},
		"a mixture":                 {"id = \"x\"\nmix = [{tube = \"lead-white\", parts = 9}, {tube = \"madder-lake\", parts = 1}]\n", "lead", "Lead", "IV"},
		"a mixture of a mixture":    {"id = \"x\"\nmix = [{tube = \"before\", parts = 9}]\n", "mercury", "Mercury", "III"},
		"a known id, more pigments": {"id = \"cobalt-blue\"\npigments = [\"PB28\", \"PW1\"]\n" + colours, "cobalt lead", "Lead", "I"},
		"one of several browns":     {"like = \"burnt-sienna\"\npigments = [\"PBr7\"]\n", "silica", "silica", "I"},
		"hazards left out":          {"like = \"cadmium-orange\"\nhazards = []\n", "cadmium selenium", "Cadmium", "I"},
		"hazards added":             {"id = \"cadmium-orange\"\nhazards = [\"zinc\"]\n" + colours, "cadmium selenium zinc", "Cadmium", "I"},
		"other words":               {"id = \"cadmium-orange\"\ncaution = \"Mind it.\"\nlightfastness = \"II\"\n" + colours, "cadmium selenium", "Mind it.", "II"},
		"nothing known":             {"id = \"x\"\n" + colours, "", "Read the label", ""},
	} {
		catalogue := apply(t, "format = 1\n[[tube]]\nid = \"before\"\nmix = [{tube = \"vermilion\", parts = 1}]\n[[tube]]\n"+c.text)
		var got catalog.Tube
		for _, tube := range catalogue.Tubes() {
			if tube.Have && tube.ID != "before" {
				got = tube
			}
		}
		if strings.Join(got.Hazards, " ") != c.hazards || !strings.Contains(got.Caution, c.caution) || got.Lightfastness != c.lightfastness {
			t.Errorf("%s: %v, %q, %q", what, got.Hazards, got.Caution, got.Lightfastness)
		}
	}
}

func TestWrittenTubesReadBack(t *testing.T) {
	f := &File{}
	b := builtin(t)
	for _, tube := range b.Tubes() {
		f.Tubes = append(f.Tubes, Of(&tube, film.Dry))
	}
	density := 1.25
	f.Tubes = append(f.Tubes,
		Tube{ID: "odd", Name: "a \"quoted\" \\ name # [with] é", Density: &density, Colours: &Colours{"#304a5c", "#9fb0bc", 9}},
		Tube{ID: "mixed", Mix: []Part{{"odd", 0.5}, {"titanium-white", 2}}},
		Tube{ID: "other-viridian", Like: "viridian", NotOwned: true})
	path := filepath.Join(t.TempDir(), "own.toml")
	if err := os.WriteFile(path, Format(f), 0o600); err != nil {
		t.Fatal(err)
	}
	got, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	if again := Format(got); !bytes.Equal(again, Format(f)) {
		t.Error("written and read back, it is written otherwise")
	}
	c, leftOut, err := Load(path, b)
	if err != nil || len(leftOut) > 0 {
		t.Fatal(err, leftOut)
	}
	for _, was := range b.Tubes() {
		is, _ := c.Find(was.ID)
		if is.Doubt != was.Doubt || len(is.Parts) > 0 {
			t.Errorf("%s: doubt %v, parts %v", was.ID, is.Doubt, is.Parts)
		}
		for _, parts := range []float64{0, 9} {
			a, b := is.Paint.Tint(b.White(), parts, film.Dry), was.Paint.Tint(b.White(), parts, film.Dry)
			if de := colour.DE2000(colour.D65().Lab(&a), colour.D65().Lab(&b)); de > 0.1 {
				t.Errorf("%s in %g of white: %.2f off", was.ID, parts, de)
			}
		}
	}
}

func TestMistakesSayWhereAndHow(t *testing.T) {
	spectrum := "[" + strings.Repeat("0.5, ", 18) + "0.5]"
	for _, c := range []struct {
		what, text string
		line       int
		says       string
	}{
		{"no format", "[[tube]]\nlike = \"viridian\"\n", 0, "format = 1"},
		{"another format", "format = 2\n", 1, "format"},
		{"no tubes", "format = 1\n", 0, "no tube"},
		{"not TOML", "format = \n", 1, ""},
		{"unknown key", "format = 1\n[[tube]]\nlike = \"viridian\"\ncolour = 3\n", 4, "unknown key"},
		{"a word for a number", "format = 1\n[[tube]]\nprice = \"dear\"\n", 3, ""},
		{"neither beside nor instead", "format = 1\ncatalogue = \"on top\"\n", 2, "beside"},
		{"no id", "format = 1\n[[tube]]\nname = \"x\"\n", 2, "id"},
		{"no paint", "format = 1\n[[tube]]\nid = \"x\"\n", 3, "masstone and tint, or mix"},
		{"half a paint", "format = 1\n[[tube]]\nid = \"viridian\"\ntint-parts = 9\n", 2, "one way"},
		{"a word for many", "format = 1\n[[tube]]\nid = \"sienna\"\n", 3, "raw-sienna or burnt-sienna"},
		{"two paints", "format = 1\n[[tube]]\nid = \"x\"\nlike = \"viridian\"\nmasstone = \"#123456\"\n", 2, "one way"},
		{"unknown like", "format = 1\n[[tube]]\nlike = \"virridian\"\n", 3, "did you mean viridian"},
		{"bad id", "format = 1\n[[tube]]\nlike = \"viridian\"\nid = \"My Green\"\n", 4, "hyphens"},
		{"twice", "format = 1\n[[tube]]\nlike = \"viridian\"\n[[tube]]\nlike = \"viridian\"\n", 4, "twice"},
		{"price below 0", "format = 1\n[[tube]]\nlike = \"viridian\"\nprice = -1\n", 4, "no price"},
		{"price NaN", "format = 1\n[[tube]]\nlike = \"viridian\"\nprice = nan\n", 4, "no price"},
		{"size 0", "format = 1\n[[tube]]\nlike = \"viridian\"\nsize-ml = 0\n", 4, "out of range"},
		{"bad hazard", "format = 1\n[[tube]]\nlike = \"viridian\"\nhazards = [\"smell\"]\n", 4, "none of"},
		{"bad pigment", "format = 1\n[[tube]]\nlike = \"viridian\"\npigments = [\"green\"]\n", 4, "Colour Index"},
		{"bad opacity", "format = 1\n[[tube]]\nlike = \"viridian\"\nopacity = \"thick\"\n", 4, "none of"},
		{"masstone alone", "format = 1\n[[tube]]\nid = \"x\"\nmasstone = \"#123456\"\n", 2, "both needed"},
		{"not a colour", "format = 1\n[[tube]]\nid = \"x\"\nmasstone = \"greenish\"\ntint = \"#aabbcc\"\n", 4, "greenish"},
		{"tint from nowhere", "format = 1\n[[tube]]\nid = \"x\"\nmasstone = \"lab(40 30 20)\"\ntint = \"lab(98 50 -60)\"\n", 5, "tint"},
		{"a masstone beyond paint", "format = 1\n[[tube]]\nid = \"x\"\nmasstone = \"lab(10 40 20)\"\ntint = \"lab(70 6 3)\"\n", 4, "no paint film"},
		{"mix of nothing known", "format = 1\n[[tube]]\nid = \"x\"\nmix = [{tube = \"y\", parts = 1}]\n", 4, "no tube"},
		{"mix of itself", "format = 1\n[[tube]]\nid = \"x\"\nmix = [{tube = \"x\", parts = 1}]\n", 4, "no tube"},
		{"no parts", "format = 1\n[[tube]]\nid = \"x\"\nmix = [{tube = \"viridian\", parts = 0}]\n", 4, "parts"},
		{"k without surface", "format = 1\n[[tube]]\nid = \"x\"\nk = " + spectrum + "\ns = " + spectrum + "\n", 4, "surface"},
		{"another surface", "format = 1\n[[tube]]\nid = \"x\"\nsurface = {k1 = 0.04, k2 = 0.6}\nwavelengths = {start = 380, step = 20}\nk = " + spectrum + "\ns = " + spectrum + "\n", 4, "measure"},
		{"too short", "format = 1\n[[tube]]\nid = \"x\"\nsurface = {k1 = 0.03, k2 = 0.65}\nwavelengths = {start = 380, step = 10}\nk = " + spectrum + "\ns = " + spectrum + "\n", 5, "700"},
		{"k of 0", "format = 1\n[[tube]]\nid = \"x\"\nsurface = {k1 = 0.03, k2 = 0.65}\nwavelengths = {start = 380, step = 20}\nk = " + strings.Replace(spectrum, "0.5", "0.0", 1) + "\ns = " + spectrum + "\n", 6, "380 nm"},
		{"doubt without k", "format = 1\n[[tube]]\nlike = \"viridian\"\ndoubt = {strength = 0.1}\n", 4, "belongs to k and s"},
		{"doubt below 0", "format = 1\n[[tube]]\nid = \"x\"\nsurface = {k1 = 0.03, k2 = 0.65}\nwavelengths = {start = 380, step = 20}\nk = " + spectrum + "\ns = " + spectrum + "\ndoubt = {strength = -0.1}\n", 8, "no spread"},
		{"more k than s", "format = 1\n[[tube]]\nid = \"x\"\nsurface = {k1 = 0.03, k2 = 0.65}\nwavelengths = {start = 380, step = 20}\nk = " + spectrum + "\ns = [1.0]\n", 6, "19 values of k but 1 of s"},
	} {
		f, err := Parse("own.toml", []byte(c.text))
		if err == nil {
			_, _, err = f.Apply(builtin(t))
		}
		var wrong *Error
		if !errors.As(err, &wrong) {
			t.Errorf("%s: %v", c.what, err)
			continue
		}
		if wrong.Line != c.line || !strings.Contains(err.Error(), c.says) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %q, want line %d and %q", c.what, err, c.line, c.says)
		}
	}
}

// A tube that no paint can be is left out with a word, the others serve; a slip of
// the pen in one still refuses the file.
func TestImpossibleTubesAreLeftOut(t *testing.T) {
	const sound = "format = 1\n[[tube]]\nid = \"sound\"\nmasstone = \"lab(31 -9 6)\"\ntint = \"lab(76 -14 7)\"\n"
	for _, c := range []struct{ what, text, says string }{
		{"too dark", "[[tube]]\nid = \"x\"\nmasstone = \"lab(10 40 20)\"\ntint = \"lab(70 6 3)\"\n", "own.toml:8: tube \"x\", masstone: no paint film"},
		{"no such tint", "[[tube]]\nid = \"x\"\nmasstone = \"lab(40 30 20)\"\ntint = \"lab(98 50 -60)\"\n", "own.toml:9: tube \"x\", tint: no tint"},
	} {
		f, err := Parse("own.toml", []byte(sound+c.text))
		if err != nil {
			t.Fatal(err)
		}
		with, leftOut, err := f.Apply(builtin(t))
		if err != nil || len(leftOut) != 1 || !strings.HasPrefix(leftOut[0].Error(), c.says) {
			t.Errorf("%s: %v, left out %v", c.what, err, leftOut)
			continue
		}
		if _, ok := with.Find("x"); ok {
			t.Errorf("%s: it is in all the same", c.what)
		}
		if _, ok := with.Find("sound"); !ok {
			t.Errorf("%s: the sound tube is gone", c.what)
		}
	}
	f, err := Parse("own.toml", []byte(sound+"[[tube]]\nid = \"x\"\nmasstone = \"greenish\"\ntint = \"#aabbcc\"\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := f.Apply(builtin(t)); err == nil || !strings.Contains(err.Error(), "greenish") {
		t.Errorf("a slip of the pen: %v", err)
	}
}

func TestUnreadableFile(t *testing.T) {
	if _, _, err := Load(filepath.Join(t.TempDir(), "none.toml"), builtin(t)); !errors.Is(err, os.ErrNotExist) {
		t.Error(err)
	}
}

// Whatever is read applies or is refused in one line, and reads back the same.
func FuzzParse(f *testing.F) {
	c := builtin(f)
	f.Add([]byte("format = 1\n[[tube]]\nlike = \"viridian\"\nprice = 3.5\n"))
	f.Add([]byte("format = 1\ncatalogue = \"instead\"\n[[tube]]\nid = \"x\"\nmasstone = \"#304a5c\"\ntint = \"#9fb0bc\"\ntint-parts = 4\n"))
	f.Add([]byte("format = 1\n[[tube]]\nid = \"viridian\"\n[[swatch]]\nrecipe = \"1 viridian + 9 titanium-white over white 24 um\"\nseen = \"5G 7/2\"\nground = \"#f0f0ee\"\nnoise = 1.5\n"))
	f.Add([]byte("format = 1\n[[tube]]\nid = \"x\"\nmix = [{tube = \"viridian\", parts = 1}]\n[[tube]]\nid = \"y\"\nmix = [{tube = \"x\", parts = 0.5}]\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		var file *File
		var err error
		bounded.Work(t, len(data), func() { file, err = Parse("own.toml", data) })
		if err != nil {
			if !errors.As(err, new(*Error)) {
				t.Fatalf("%q", err)
			}
			bounded.Refusal(t, err, "own.toml", "; ")
			return
		}
		text := Format(file)
		again, err := Parse("own.toml", text)
		if err != nil || !bytes.Equal(Format(again), text) {
			t.Fatalf("%v\n%s", err, text)
		}
		var with *catalog.Catalogue
		bounded.Work(t, len(data), func() { with, _, err = file.Apply(c) })
		if err != nil {
			if !errors.As(err, new(*Error)) {
				t.Fatalf("%q", err)
			}
			bounded.Refusal(t, err, "own.toml", "; ")
			return
		}
		for _, tube := range with.Tubes() {
			seen := tube.Paint.Masstone(film.Dry)
			if !colour.D65().Lab(&seen).Finite() {
				t.Fatalf("%s has no colour", tube.ID)
			}
		}
	})
}
