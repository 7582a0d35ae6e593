package report

import (
	"math"
	"testing"

	"fewtubes/gamut/film"
)

// A pile let down twice one in ten is one volume in 121.
func TestPileLetDownTwice(t *testing.T) {
	c := fixture()
	got := c.paint(Pile{Tube: "deep-blue", In: "titanium-white", Times: 2, Ratio: 10, Parts: 3})
	var want film.Paint
	film.Mix(&want, []film.Paint{c.tube("deep-blue").Paint, c.tube("titanium-white").Paint}, []float64{1.0 / 121, 120.0 / 121})
	for b := range want.K {
		if math.Abs(got.K[b]-want.K[b]) > 1e-12 || math.Abs(got.S[b]-want.S[b]) > 1e-12 {
			t.Fatalf("band %d: K %g S %g, want %g and %g", b, got.K[b], got.S[b], want.K[b], want.S[b])
		}
	}
}
