package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
)

// What the divider rules out by its lightness is farther from the target than the best
// so far whatever its hue; and no more is kept than that asks for.
func TestBoundRulesOutOnlyWhatIsFarther(t *testing.T) {
	rng := rand.New(rand.NewPCG(45, 1))
	for range 1000 {
		target := colour.LCh{L: 100 * rng.Float64(), C: 60 * rng.Float64(), H: 360 * rng.Float64()}.Lab()
		far := 40 * rng.Float64()
		d := divider{aim: kernel.NewResidual(target), squared: far * far}
		d.bound()
		for _, y := range []float64{d.darkest, d.lightest} {
			l := colour.XYZ{X: y, Y: y, Z: y}.Lab(colour.XYZ{X: 1, Y: 1, Z: 1}).L
			if got := colour.DE2000(colour.Lab{L: l}, colour.Lab{L: target.L}); math.Abs(got-far) > 1e-3 {
				t.Errorf("L* %g with the best at %g: the bound at L* %g is %g off", target.L, far, l, got)
			}
		}
	}
}
