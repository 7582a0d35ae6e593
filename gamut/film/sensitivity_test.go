package film

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// The slopes agree with central differences of the film model itself.
func TestSlopesMatchDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := math.Exp(rapid.Float64Range(math.Log(1e-4), math.Log(50)).Draw(t, "log k"))
		s := math.Exp(rapid.Float64Range(math.Log(1e-3), math.Log(5)).Draw(t, "log s"))
		x := rapid.Float64Range(0.1, 20).Draw(t, "x")
		rg := rapid.Float64Range(0, 0.95).Draw(t, "rg")
		film, opaque := overLayer(k, s, x, rg), opaqueLayer(k, s)
		const h = 1e-5
		slope := func(at func(e float64) float64) float64 { return (at(h) - at(-h)) / (2 * h) }
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"R", film.r, Over(k, s, x, rg)},
			{"K", film.dK * k, slope(func(e float64) float64 { return Over(k*math.Exp(e), s, x, rg) })},
			{"S", film.dS * s, slope(func(e float64) float64 { return Over(k, s*math.Exp(e), x, rg) })},
			{"X", film.dLogX, slope(func(e float64) float64 { return Over(k, s, x*math.Exp(e), rg) })},
			{"opaque R", opaque.r, Infinite(k / s)},
			{"opaque K", opaque.dK * k, slope(func(e float64) float64 { return Infinite(k * math.Exp(e) / s) })},
			{"opaque S", opaque.dS * s, slope(func(e float64) float64 { return Infinite(k / s * math.Exp(-e)) })},
		} {
			if math.Abs(c.got-c.want) > 1e-6 {
				t.Errorf("%s: %g, want %g (k %g s %g x %g over %g)", c.name, c.got, c.want, k, s, x, rg)
			}
		}
	})
}
