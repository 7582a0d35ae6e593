package gamut

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
)

// A meter tells what Evaluate tells, but for rounding, in whatever order it is asked.
func TestMeterIsEvaluate(t *testing.T) {
	m := acrylicMixer(t)
	meter := m.Meter()
	rng := rand.New(rand.NewPCG(3, 14))
	for range 500 {
		paints := rng.Perm(m.Len())[:1+rng.IntN(5)]
		volumes := make([]float64, len(paints))
		for i := range volumes {
			volumes[i] = float64(1+rng.IntN(32)) / 4
		}
		if d := colour.DE2000(meter.Lab(paints, volumes), m.Evaluate(paints, volumes)); d > 1e-8 {
			t.Errorf("%v of %v: %g apart", volumes, paints, d)
		}
	}
}
