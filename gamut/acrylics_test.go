package gamut

import (
	"slices"
	"testing"

	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
)

func acrylics(t testing.TB) (names []string, paints []film.Paint) {
	return samples.Acrylics(t, "testdata/acrylics.csv")
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
