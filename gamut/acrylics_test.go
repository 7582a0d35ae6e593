package gamut

import (
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/film"
)

// acrylics reads the 19 paints of R. S. Berns, 2016 (testdata/acrylics.csv).
func acrylics(t testing.TB) (names []string, paints []film.Paint) {
	t.Helper()
	for i, row := range figures.Rows(t, "testdata/acrylics.csv") {
		b := i % colour.Bands
		if b == 0 {
			names = append(names, row[1])
			paints = append(paints, film.Paint{})
		}
		p := &paints[len(paints)-1]
		p.K[b], p.S[b] = figures.Number(t, row[3]), figures.Number(t, row[4])
	}
	return names, paints
}

// named lists the indices of acrylics by name.
func named(t testing.TB, names []string, wanted ...string) []int {
	t.Helper()
	out := make([]int, len(wanted))
	for i, w := range wanted {
		if out[i] = slices.Index(names, w); out[i] < 0 {
			t.Fatalf("no paint %q", w)
		}
	}
	return out
}

func mustMixer(t testing.TB, paints []film.Paint, opt Options) *Mixer {
	t.Helper()
	m, err := NewMixer(paints, opt)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func acrylicMixer(t testing.TB) *Mixer {
	_, paints := acrylics(t)
	return mustMixer(t, paints, Options{Surface: film.Dry})
}
