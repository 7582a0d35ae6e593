package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// The dips of a pair hold its nearest mix, by the plain film model at 4,000 ratios, be
// it ever so narrow or beside the edge.
func TestDipsHoldTheNearestOfAPair(t *testing.T) {
	tubes, byLimit := tubeMixers(t)
	m := byLimit[2]
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(38, 1))
	edges, narrow := 0, 0
	for range 150 {
		pair := samples.Palette(len(tubes), 2, 2, rng)
		target := colour.LCh{L: 100 * rng.Float64(), C: 2 + 70*rng.Float64(), H: 360 * rng.Float64()}.Lab()
		w.begin(target, set.Of(len(tubes), pair...))
		w.best.squared = math.Inf(1)
		w.dips = w.dips[:0]
		w.follow(pair[0], pair[1])
		w.findDips(pair[0], pair[1])
		got := math.Inf(1)
		for _, d := range w.dips {
			mix := m.Evaluate(pair, []float64{1 / m.scale[pair[0]], d.ratio / m.scale[pair[1]]})
			if de := colour.DE2000(mix, target); math.Abs(de*de-d.squared) > 1e-3 {
				t.Errorf("%v at %g: %g, said to be %g", pair, d.ratio, de, math.Sqrt(d.squared))
			}
			got = min(got, math.Sqrt(d.squared))
		}
		if best, at := denselyOfPair(tubes, pair, target); got > best+nearestSlack {
			t.Errorf("%v to %v: nearest dip %.4f, at ratio %g it is %.4f", pair, target, got, at, best)
		}
		before := edges
		for k := range w.samples {
			if k > 0 && w.samples[k].side*w.samples[k-1].side < 0 {
				edges++
			}
		}
		if len(w.samples) > len(alongRatios)+2*(edges-before) {
			narrow++
		}
	}
	t.Logf("%d edges met, %d pairs followed more closely", edges, narrow)
	if edges < 20 || narrow < 20 {
		t.Error("too few to tell")
	}
}

// denselyOfPair is the nearest mix of a pair and its ratio, scaled amounts.
func denselyOfPair(tubes []film.Paint, pair []int, target colour.Lab) (best, ratio float64) {
	l := newLattice(selected(tubes, pair))
	best = math.Inf(1)
	for k := range 4000 {
		x := 9 * (float64(k)/2000 - 1)
		if d := colour.DE2000(l.colour([]int{0, 1}, []float64{x}), target); d < best {
			best, ratio = d, math.Exp(x)
		}
	}
	return best, ratio
}
