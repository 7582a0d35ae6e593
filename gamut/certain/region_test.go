package certain

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/certain/tolerance"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
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

// The checker, which has an enclosure of CIEDE2000 of its own, takes the faces that
// the search has proved: about greys, where hues are open, and elsewhere, under each
// light. Where it took others less, a proof would be lost.
func TestCheckerTakesTheFaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 1))
	unbounded := 0
	for i := range 12 {
		light := []*colour.Light{colour.D65(), colour.D50(), colour.A()}[i%3]
		target := colour.LCh{L: 20 + 70*rng.Float64(), C: 60 * rng.Float64() * float64(i%4) / 3, H: 360 * rng.Float64()}.Lab()
		if i%8 == 5 {
			target.A = 0
		}
		tol := 1 + 4*rng.Float64()
		r, err := NewRegion(context.Background(), target, light, tol)
		if errors.Is(err, ErrUnbounded) {
			unbounded++
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		var one film.Paint
		for b := range one.K {
			one.K[b], one.S[b] = 1, 1
		}
		c := check.Certificate{
			Claim: check.Claim{Paints: []film.Paint{one}, Surface: film.Dry, Light: light.Name, Target: target, Tolerance: tol},
			Norms: []float64{1}, Faces: r.faces,
		}
		if err := c.Verify(context.Background()); err == nil || !strings.HasSuffix(err.Error(), "1 cells are left open") {
			t.Errorf("%v within %g, %s: %v", target, tol, light.Name, err)
		}
	}
	if unbounded > 2 {
		t.Errorf("%d could not be bounded", unbounded)
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
