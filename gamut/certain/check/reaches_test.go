package check_test

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// A mix comes within a hair more than its difference, and not within a hair less, as
// the film model and colour.DE2000 have it.
func TestReaches(t *testing.T) {
	paints := acrylics(t, "PW6", "PB29", "PY184", "PG7")
	rng := rand.New(rand.NewPCG(26, 3))
	for range 200 {
		c := check.Claim{Paints: paints, Surface: film.Dry, Light: []string{"D65", "D50", "A"}[rng.IntN(3)]}
		light, err := colour.ParseLight(c.Light)
		if err != nil {
			t.Fatal(err)
		}
		amounts := make([]float64, len(paints))
		for i := range amounts {
			amounts[i] = max(0, rng.Float64()-0.3)
		}
		amounts[rng.IntN(4)] = 0.5
		var mix film.Paint
		film.Mix(&mix, paints, amounts)
		seen := mix.Masstone(film.Dry)
		at := light.Lab(&seen)
		c.Target = colour.Lab{L: min(100, max(0, at.L+4*rng.NormFloat64())), A: at.A + 3*rng.NormFloat64(), B: at.B + 3*rng.NormFloat64()}
		de := colour.DE2000(c.Target, at)
		const hair = 1e-6
		for tolerance, want := range map[float64]bool{de + hair: true, de - hair: false} {
			if c.Tolerance = tolerance; tolerance > 0 && c.Reaches(amounts) != want {
				t.Errorf("%v, %+v, at %g of %g: %v", amounts, c.Target, tolerance, de, !want)
			}
		}
	}
}
