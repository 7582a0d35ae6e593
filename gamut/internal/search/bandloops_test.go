package search

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// Four lanes at once give the bits that one after another gives.
func TestBandLoopsAgree(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(36, 4))
	for range 2000 {
		list := samples.Palette(m.Len(), 1, 7, rng)
		amounts := make([]float64, len(list))
		samples.Sparse(rng, amounts)
		var p, q point
		sumBands(&p.sum, m.bands, list, amounts)
		sumGeneric(&q.sum, m.bands, list, amounts)
		var a, b [3]float64
		seenBands(&a, &p, &m.optics)
		seenGeneric(&b, &q, &m.optics)
		if p != q || a != b {
			t.Fatalf("%v of %v: seen %v and %v", amounts, list, a, b)
		}
		var d, e bands
		slopeBands(&d, &p, m.optics.k2)
		slopeGeneric(&e, &p, m.optics.k2)
		if d != e {
			t.Fatalf("%v of %v: slopes %v and %v", amounts, list, d, e)
		}
		other := &m.bands[rng.IntN(m.Len())]
		weighBands(&a, &d, &m.optics, other)
		weighGeneric(&b, &d, &m.optics, other)
		if a != b {
			t.Fatalf("%v of %v: weighed %v and %v", amounts, list, a, b)
		}
		if a, b := dotBands(&d, other), dotGeneric(&d, other); a != b {
			t.Fatalf("%v of %v: product %v and %v", amounts, list, a, b)
		}
	}
}

func TestNextPairAgrees(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(36, 5))
	found := 0
	for range 5000 {
		g := newGauge(samples.Mix(m, set.Full(m.Len()).Members(), rng))
		pairs, others := m.bank.row(rng.IntN(m.Len())), samples.Palette(m.Len(), 0, 10, rng)
		var nearest [hueRegions]float32
		for i := range nearest {
			nearest[i] = float32(100 * rng.ExpFloat64())
		}
		worst := float32(100 * rng.ExpFloat64())
		var d, e [pairLanes]float32
		n, want := nextPair(&g, &nearest, pairs, others, worst, &d), nextPairGeneric(&g, &nearest, pairs, others, worst, &e)
		if n != want || d != e {
			t.Fatalf("%d at %v, want %d at %v", n, d, want, e)
		}
		if n < len(others) {
			found++
		}
	}
	if found < 500 || found > 4900 {
		t.Errorf("%d found of 5000: one-sided", found)
	}
}
