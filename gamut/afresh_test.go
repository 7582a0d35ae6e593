package gamut

import (
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// To start afresh wastes less where more must be added than lies there, or where
// it reaches and no addition does; each of the two alone, and neither.
func TestAfreshWastesLess(t *testing.T) {
	const tolerance = 0.2
	names, _ := acrylics(t)
	m := acrylicMixer(t)
	of := func(paint ...string) []int { return named(t, names, paint...) }
	blueAndWhite := of("ultramarine blue", "titanium white")
	dullBlue := of("cadmium orange", "cobalt blue")
	for what, c := range map[string]struct {
		pile          []float64 // of the paints, in order
		paints        []int
		target        colour.Lab
		palette       []int
		reached, much bool // what the addition comes to; much: more than the pile
		fresh, less   bool // a new pile reaches; it wastes less
	}{
		"less than lies there": {
			[]float64{1, 4}, blueAndWhite, m.Evaluate(blueAndWhite, []float64{5.5, 4}), blueAndWhite,
			true, false, true, false,
		},
		"more than lies there": {
			[]float64{1, 1}, blueAndWhite, m.Evaluate(blueAndWhite, []float64{1, 3.4}), blueAndWhite,
			true, true, true, true,
		},
		"a strong pile, no addition reaches": {
			[]float64{1}, of("phthalo blue green shade"), m.Evaluate(dullBlue, []float64{1, 4}), dullBlue,
			false, false, true, true,
		},
		"nothing reaches": {
			[]float64{1}, blueAndWhite[:1], colour.Lab{L: 30, A: 60, B: -110}, blueAndWhite,
			false, false, false, false,
		},
	} {
		got, err := m.Correct(Pile{Paints: c.paints, Amounts: c.pile}, c.target, set.Of(m.Len(), c.palette...), tolerance)
		if err != nil {
			t.Fatal(err)
		}
		if got.Reached != c.reached || got.Added > 1 != c.much || got.Afresh.DE <= tolerance != c.fresh {
			t.Fatalf("%s: the case is another: %+v", what, got)
		}
		if got.AfreshLess != c.less {
			t.Errorf("%s: afresh wastes less: %v", what, got.AfreshLess)
		}
	}
}
