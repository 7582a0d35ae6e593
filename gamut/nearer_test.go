package gamut

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// Whatever amounts a mix is held against, it comes out no farther than they are, and
// the same where they are farther.
func TestNearer(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(43, 1))
	mended := 0
	for range 300 {
		target := samples.Mix(m, set.Full(m.Len()).Members(), rng)
		mix := m.Closest(target, set.Of(m.Len(), samples.Palette(m.Len(), 1, 3, rng)...), Search)
		paints := samples.Palette(m.Len(), 1, 4, rng)
		amounts := make([]float64, len(paints))
		for i := range amounts {
			amounts[i] = float64(1 + rng.IntN(9))
		}
		de := colour.DE2000(m.Evaluate(paints, amounts), target)
		got := m.Nearer(target, mix, paints, amounts)
		switch {
		case got.DE > min(mix.DE, de)+1e-9:
			t.Errorf("%g, of %g and %g", got.DE, mix.DE, de)
		case de >= mix.DE && got.DE != mix.DE:
			t.Errorf("another mix at %g for one at %g that was nearer", got.DE, mix.DE)
		case de < mix.DE:
			mended++
		}
		if lab := m.Evaluate(got.Paints, got.Shares); lab != got.Lab || colour.DE2000(lab, target) != got.DE {
			t.Errorf("%+v is at %v", got, lab)
		}
	}
	if mended < 50 {
		t.Errorf("only %d mended", mended)
	}
}
