package gamut

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// Recipes in whole parts of the nearest mixes of palettes of 3 to 10 paints.
func BenchmarkRecipe(b *testing.B) {
	m := acrylicMixer(b)
	rng := rand.New(rand.NewPCG(17, 1))
	targets, mixes := make([]colour.Lab, 600), make([]Mix, 600)
	for i := range mixes {
		palette := samples.Palette(m.Len(), 3, 10, rng)
		targets[i] = samples.Mix(m, set.Full(m.Len()).Members(), rng)
		mixes[i] = m.Closest(targets[i], set.Of(m.Len(), palette...), Quick)
	}
	start := bounded.ProcessorTime()
	for i := 0; b.Loop(); i++ {
		k := i % len(mixes)
		m.Recipe(targets[k], mixes[k], 0)
	}
	b.ReportMetric(float64(bounded.ProcessorTime()-start)/float64(b.N), "cpu-ns/op")
}
