package owntubes

import (
	"bytes"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
)

const taughtBox = `# my box
format = 1

[[tube]]
id = "titanium-white"

[[tube]]
id = "ultramarine-blue"   # the big one

[[swatch]]
recipe = "ultramarine-blue + 9 titanium-white"
seen = "lab(70 2 -36)"
seen-by = "chip"   # on the porch

# thin
[[swatch]]
recipe = "1 ultramarine-blue over white 24 um"
seen = "lab(28 40 -68)"
ground = "lab(95 0 2)"
noise = 1.5
`

func open(t *testing.T, text string) *Box {
	t.Helper()
	b, err := OpenBox("box.toml", []byte(text), builtin(t))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What the record teaches moves the tubes of whoever loads the file, and no doubt grows.
func TestRecordTeaches(t *testing.T) {
	c := builtin(t)
	f, err := Parse("box.toml", []byte(taughtBox))
	if err != nil {
		t.Fatal(err)
	}
	with, leftOut, err := f.Apply(c)
	if err != nil || len(leftOut) > 0 {
		t.Fatal(err, leftOut)
	}
	was, _ := c.Find("ultramarine-blue")
	is, _ := with.Find("ultramarine-blue")
	if is.Paint == was.Paint || is.Doubt.Strength >= was.Doubt.Strength || !strings.HasPrefix(is.Source, was.Source+"; moved by 2 swatches") {
		t.Errorf("%+v\n%s", is.Doubt, is.Source)
	}
	white, _ := with.Find("titanium-white")
	if before, _ := c.Find("titanium-white"); white.Paint.S != before.Paint.S || white.Doubt.Scattering > 1e-9 && white.Doubt.Strength > before.Doubt.Levelled().Scattering {
		t.Errorf("the white scatters otherwise: %+v", white.Doubt)
	}
	if other, _ := with.Find("viridian"); other.Doubt != (doubt.Measured) {
		t.Errorf("viridian, which no swatch holds: %+v", other.Doubt)
	}
	lesson, err := f.Teach(c)
	if err != nil || len(lesson.Tubes) != 2 || len(lesson.Swatches) != 2 {
		t.Fatal(err, lesson)
	}
	again, err := Parse("box.toml", Format(f))
	if err != nil || !bytes.Equal(Format(again), Format(f)) || len(again.Swatches) != 2 || *again.Swatches[1].Noise != 1.5 {
		t.Errorf("%v\n%s", err, Format(f))
	}
}

// Swatches are added behind what stands in the box and taken out again, and remarks stay.
func TestRecordAndForget(t *testing.T) {
	b := open(t, taughtBox)
	more := Swatch{Recipe: "2 ultramarine-blue + 1 titanium-white", Seen: "#5a6fb0", By: "camera"}
	with, idle, err := b.Record([]Swatch{more, {Recipe: "2 ultramarine-blue + 18 titanium-white", Seen: "lab(70 2 -36)", By: "chip"}, more})
	if err != nil || len(idle) != 2 || len(with.Swatches()) != 3 || !strings.HasPrefix(string(with.Text()), taughtBox) {
		t.Fatalf("%v, %d idle\n%s", err, len(idle), with.Text())
	}
	without, gone, err := with.Forget(3)
	if err != nil || gone.Seen != more.Seen || len(without.Swatches()) != 2 || strings.TrimSpace(string(without.Text())) != strings.TrimSpace(taughtBox) {
		t.Errorf("%v\n%s", err, without.Text())
	}
	if _, _, err := with.Forget(0); err == nil {
		t.Error("swatch 0 was found")
	}
	entered, err := b.Enter([]Tube{{Like: "viridian"}, {ID: "marsh-green", Like: "viridian", Name: "marsh green"}, {Like: "ultramarine-blue"}})
	if err != nil || len(entered.Owned()) != 4 || len(entered.Swatches()) != 2 {
		t.Errorf("%v\n%s", err, entered.Text())
	}
	// One that stands twice is counted once, and the reader is told.
	twice := open(t, taughtBox+"[[swatch]]\nrecipe = \"3 ultramarine-blue + 27 titanium-white\"\nseen = \"lab(70 2 -36)\"\nseen-by = \"chip\"\n")
	lesson, err := twice.Teach()
	if err != nil || len(lesson.Swatches) != 2 || len(lesson.LeftOut) != 1 || !strings.HasPrefix(lesson.LeftOut[0].Error(), "box.toml:21: swatch 3") {
		t.Errorf("%v %+v", err, lesson)
	}
}

func TestSwatchesThatAreWrong(t *testing.T) {
	const head = "format = 1\n[[tube]]\nid = \"viridian\"\n[[swatch]]\n"
	for text, want := range map[string]string{
		"seen = \"#304030\"": "box.toml:4: swatch 1, recipe: it has no recipe",
		"recipe = \"viridian + viridian\"\nseen = \"#304030\"":          "box.toml:5: swatch 1, recipe: viridian is in it twice",
		"recipe = \"bare white\"\nseen = \"#304030\"":                   "box.toml:5: swatch 1, recipe: a bare chart",
		"recipe = \"viridian\"\nseen = \"green\"":                       "box.toml:6: swatch 1, seen: ",
		"recipe = \"viridian\"\nseen = \"lab(300 0 0)\"":                "box.toml:6: swatch 1, seen: ",
		"recipe = \"viridian\"\nseen = \"#304030\"\nseen-by = \"moon\"": "box.toml:7: swatch 1, seen-by: ",
		"recipe = \"viridian\"\nseen = \"#304030\"\nnoise = -1":         "box.toml:7: swatch 1, noise: ",
		"recipe = \"viridian over white 9 um\"\nseen = \"#304030\"":     "box.toml:4: swatch 1, ground: ",
		"recipe = \"viridain\"\nseen = \"#304030\"":                     "box.toml:5: swatch 1, recipe: there is no tube \"viridain\"",
		"recipe = \"viridian\"\nseen = \"#304030\"\nground = \"x\"":     "box.toml:7: swatch 1, ground: ",
	} {
		f, err := Parse("box.toml", []byte(head+text))
		if err == nil {
			_, _, err = f.Apply(builtin(t))
		}
		if err == nil || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%s\ngot  %v\nwant %s", text, err, want)
		}
	}
}

// Tubes that no swatch holds take part where asked for, as the catalogue has them; mixtures of some of the tubes are
// put in the lesson's order, and what was painted is known again in any amounts.
func TestLessonAmongMoreTubes(t *testing.T) {
	c := builtin(t)
	f, err := Parse("box.toml", []byte(taughtBox))
	if err != nil {
		t.Fatal(err)
	}
	l, err := f.TeachAmong(c, []string{"viridian", "titanium-white"})
	if err != nil || len(l.Tubes) != 3 || l.Tubes[2].ID != "viridian" || l.Learnt.Paints[2].Swatches != 0 || l.Learnt.Paints[2].Paint != l.Tubes[2].Paint {
		t.Fatal(err, l)
	}
	order := []catalog.Tube{l.Tubes[2], l.Tubes[1], l.Tubes[0]}
	swatch := l.painted[0]
	twice := film.Mixture{Amounts: []float64{2 * swatch[2], 2 * swatch[1], 2 * swatch[0]}}
	if got := l.Among(order, []film.Mixture{twice})[0].Amounts; got[0] != 2*swatch[0] || got[2] != 2*swatch[2] {
		t.Errorf("%v, of %v", got, twice.Amounts)
	}
	if other := (film.Mixture{Amounts: []float64{1, 1, 0}}); !l.Holds(order, &twice) || l.Holds(order, &other) {
		t.Errorf("painted: %v", l.painted)
	}
	if none, err := New("").TeachAmong(c, []string{"viridian"}); err != nil || len(none.Tubes) != 1 || len(none.Swatches) != 0 {
		t.Error(err, none)
	}
}
