package film

import (
	"math"
	"testing"

	"fewtubes/gamut/colour"
)

// A film that absorbs nothing reflects 1 - T = SX/(1 + SX) over a perfect black
// (Kubelka, J. Opt. Soc. Am. 38:448, 1948, K = 0), nothing of it shows when it has
// no thickness, and a thick one is the masstone.
func TestFilmOfAScale(t *testing.T) {
	scale := Scale{Surface: Surface{}}
	for b := range scale.WhiteMM {
		scale.WhiteMM[b] = 500
	}
	var p Paint
	for b := range p.K {
		p.K[b], p.S[b] = 1e-9, 0.2
	}
	black, grey := colour.Flat(0), colour.Flat(0.3)
	for um, want := range map[float64]float64{0: 0, 10: 1.0 / 2, 30: 3.0 / 4} {
		if got := scale.Film(&p, um, &black)[10]; math.Abs(got-want) > 1e-6 {
			t.Errorf("%g um over black: %g, want %g", um, got, want)
		}
	}
	scale.Surface = Dry
	if got := scale.Film(&p, 0, &grey)[10]; math.Abs(got-0.3) > 1e-12 {
		t.Errorf("no film: %g", got)
	}
	for b := range p.K {
		p.K[b] = 0.05
	}
	if got, want := scale.Film(&p, 1e4, &grey)[10], p.Masstone(Dry)[10]; math.Abs(got-want) > 1e-9 {
		t.Errorf("thick: %g, masstone %g", got, want)
	}
}
