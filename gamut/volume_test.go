package gamut

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// The reference asks the search for a mix at random places in a box around the
// palette: the share of them that are met, of the box.
func TestVolumeAgainstSearch(t *testing.T) {
	const places, met = 1200, 0.1 // CIEDE2000
	_, paints := acrylics(t)
	m := mustMixer(t, paints, Options{})
	random := rand.New(rand.NewPCG(1, 2))
	for _, members := range [][]int{{0, 2, 7, 11}, {0, 1, 6, 9, 11, 16}} {
		palette := set.Of(m.Len(), members...)
		low, high := m.bounds(palette)
		hits := 0
		for range places {
			at := colour.Lab{
				L: low.L + random.Float64()*(high.L-low.L),
				A: low.A + random.Float64()*(high.A-low.A),
				B: low.B + random.Float64()*(high.B-low.B),
			}
			if _, ok := m.Within(at, palette, met, Search); ok {
				hits++
			}
		}
		box := (high.L - low.L) * (high.A - low.A) * (high.B - low.B)
		got, want := m.Volume(palette), box*float64(hits)/places
		if r := got / want; r < 0.75 || r > 1.25 {
			t.Errorf("%v: volume %.0f, the search fills %.0f", members, got, want)
		}
	}
}

// bounds is the box around the ways between the paints.
func (m *Mixer) bounds(palette set.Set) (low, high colour.Lab) {
	low, high = colour.Lab{L: 100, A: 200, B: 200}, colour.Lab{A: -200, B: -200}
	for _, p := range m.trace(palette) {
		low = colour.Lab{L: min(low.L, p[0]), A: min(low.A, p[1]), B: min(low.B, p[2])}
		high = colour.Lab{L: max(high.L, p[0]), A: max(high.A, p[1]), B: max(high.B, p[2])}
	}
	return low, high
}

func TestVolumeOfTwoPaintsIsThin(t *testing.T) {
	_, paints := acrylics(t)
	m := mustMixer(t, paints, Options{})
	two, three := m.Volume(set.Of(m.Len(), 0, 11)), m.Volume(set.Of(m.Len(), 0, 11, 16))
	if !(two < three/20) {
		t.Errorf("two paints mix a line, not %.0f of %.0f", two, three)
	}
}
