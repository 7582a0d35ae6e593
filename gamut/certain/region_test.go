package certain

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/certain/tolerance"
	"fewtubes/gamut/colour"
)

// No colour within the tolerance lies beyond a face, which is proved again and
// asked of seeded colours at the very tolerance. Where CIEDE2000 bends within a few units, as
// about the greys, faces as high as the samples and a little more do not hold.
func TestRegionHoldsTheTolerance(t *testing.T) {
	const perTarget = 4000
	light, rng := colour.D65(), rand.New(rand.NewPCG(16, 3))
	for _, c := range []struct {
		target colour.Lab
		tol    float64
	}{
		{colour.Lab{L: 49.1, A: 0.9, B: -0.3}, 3}, {colour.Lab{L: 74.4, A: -4.5, B: -20.8}, 8}, {colour.Lab{L: 60, A: 20, B: 30}, 2},
	} {
		r, err := NewRegion(context.Background(), c.target, light, c.tol)
		if err != nil {
			t.Fatalf("%v: %v", c.target, err)
		}
		if _, ok := tolerance.Holds(context.Background(), c.target, light.White, c.tol, r.faces, maxBoxes); !ok {
			t.Errorf("%v, %v: a face is not proved", c.target, c.tol)
		}
		beyond := 0
		for range perTarget {
			p := atTolerance(rng, c.target, c.tol).XYZ(light.White)
			for _, f := range r.faces {
				if f.Normal[0]*p.X+f.Normal[1]*p.Y+f.Normal[2]*p.Z > f.Height {
					beyond++
				}
			}
		}
		if beyond > 0 {
			t.Errorf("%v, %v: %d times a colour lies beyond a face", c.target, c.tol, beyond)
		}
	}
}

// atTolerance is a colour in a random direction as far as the tolerance goes.
func atTolerance(rng *rand.Rand, target colour.Lab, tol float64) colour.Lab {
	d := [3]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
	at := func(x float64) colour.Lab {
		return colour.Lab{L: target.L + x*d[0], A: target.A + x*d[1], B: target.B + x*d[2]}
	}
	within, beyond := 0.0, tol/math.Sqrt(d[0]*d[0]+d[1]*d[1]+d[2]*d[2])
	for colour.DE2000(target, at(beyond)) <= tol {
		within, beyond = beyond, 2*beyond
	}
	for range 40 {
		if mid := (within + beyond) / 2; colour.DE2000(target, at(mid)) <= tol {
			within = mid
		} else {
			beyond = mid
		}
	}
	return at(within)
}
