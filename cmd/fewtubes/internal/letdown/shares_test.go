package letdown

import (
	"math"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// The fractions of a recipe of piles make its colour, and add up to 1.
func TestSharesMakeTheColour(t *testing.T) {
	tubes := builtin(t)
	for _, strong := range []float64{0.03, 0.01, 0.001} { // plain, let down, twice let down
		shares := []solver.Share{{ID: "titanium-white", Fraction: 0.9 - strong}, {ID: "yellow-ochre", Fraction: 0.1}, {ID: "phthalo-blue-green-shade", Fraction: strong}}
		r, err := Find(colourOf(tubes, shares), shares, 0, options, lookup(tubes))
		if err != nil {
			t.Fatal(err)
		}
		total := 0.0
		for _, s := range r.Shares() {
			total += s.Fraction
		}
		if d := colour.DE2000(colourOf(tubes, r.Shares()), r.Lab); d > 1e-6 || math.Abs(total-1) > 1e-12 {
			t.Errorf("%v: fractions %v of %g are off by %g", r.Parts, r.Shares(), total, d)
		}
	}
}
