package search

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// A paint that pulls brings the mix nearer when a trace of it is added, one of
// negative pull takes it away, by the film model and CIEDE2000 themselves.
func TestPullsTellWhatATraceDoes(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(6, 19))
	const trace = 1e-6 // of the mix, in scaled amounts
	asked := 0
	for range 60 {
		target := samples.Mix(m, set.Full(m.Len()).Members(), rng)
		mix := m.Closest(target, set.Of(m.Len(), samples.Palette(m.Len(), 3, 3, rng)...), Quick)
		total := 0.0
		for i, p := range mix.Paints {
			total += mix.Shares[i] * m.scale[p]
		}
		for paint, pull := range m.Pulls(target, mix.Paints, mix.Shares) {
			if slices.Contains(mix.Paints, paint) || pull < 1e-3 && pull > -1e-3 || mix.DE < 0.5 {
				continue
			}
			asked++
			with := m.Evaluate(append(slices.Clone(mix.Paints), paint), append(slices.Clone(mix.Shares), trace*total/m.scale[paint]))
			if change := colour.DE2000(with, target) - mix.DE; (change < 0) != (pull > 0) {
				t.Errorf("paint %d pulls %g, but a trace of it changes %g by %g", paint, pull, mix.DE, change)
			}
		}
	}
	if asked < 100 {
		t.Errorf("only %d asked", asked)
	}
}
