package kernel

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
)

// The three residuals are CIEDE2000 as package colour has it, which is held to
// the published pairs of Sharma, Wu and Dalal (2005).
func TestResidualIsCIEDE2000(t *testing.T) {
	const tolerance = 1e-6
	rng := rand.New(rand.NewPCG(2000, 5))
	worst := 0.0
	for range 200_000 {
		p := colour.LCh{L: 100 * rng.Float64(), C: 100 * rng.Float64() * rng.Float64(), H: 360 * rng.Float64()}
		q := colour.LCh{L: p.L + 10*rng.NormFloat64(), C: math.Abs(p.C + 20*rng.NormFloat64()), H: p.H + 60*rng.NormFloat64()}
		f := NewResidual(p.Lab())
		f.At(q.Lab())
		worst = max(worst, math.Abs(math.Sqrt(f.Squared)-colour.DE2000(p.Lab(), q.Lab())))
	}
	if worst > tolerance {
		t.Errorf("off by up to %g", worst)
	}
	t.Logf("off by at most %.1e", worst)
}
