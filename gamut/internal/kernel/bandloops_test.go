package kernel

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
)

// Four lanes at once give the bits that one after another gives.
func TestBandLoopsAgree(t *testing.T) {
	paints, optics := loopPaints(t)
	rng := rand.New(rand.NewPCG(36, 4))
	for range 2000 {
		list := samples.Palette(len(paints), 1, 7, rng)
		amounts := make([]float64, len(list))
		samples.Sparse(rng, amounts)
		var p, q Point
		sumBands(&p.sum, paints, list, amounts)
		sumGeneric(&q.sum, paints, list, amounts)
		var a, b [3]float64
		seenBands(&a, &p, &optics)
		seenGeneric(&b, &q, &optics)
		if p != q || a != b {
			t.Fatalf("%v of %v: seen %v and %v", amounts, list, a, b)
		}
		var d, e Paint
		slopeBands(&d, &p, optics.k2)
		slopeGeneric(&e, &p, optics.k2)
		if d != e {
			t.Fatalf("%v of %v: slopes %v and %v", amounts, list, d, e)
		}
		other := &paints[rng.IntN(len(paints))]
		weighBands(&a, &d, &optics, other)
		weighGeneric(&b, &d, &optics, other)
		if a != b {
			t.Fatalf("%v of %v: weighed %v and %v", amounts, list, a, b)
		}
		if a, b := dotBands(&d, other), dotGeneric(&d, other); a != b {
			t.Fatalf("%v of %v: product %v and %v", amounts, list, a, b)
		}
	}
}

func TestNextPairAgrees(t *testing.T) {
	paints, optics := loopPaints(t)
	rows := make([][]Pair, len(paints))
	for i := range rows {
		for j := range paints {
			rows[i] = append(rows[i], PairOf(paints, &optics, i, j))
		}
	}
	rng := rand.New(rand.NewPCG(36, 5))
	found := 0
	for range 5000 {
		list := samples.Palette(len(paints), 1, 4, rng)
		amounts := make([]float64, len(list))
		samples.Sparse(rng, amounts)
		var p Point
		p.Mix(paints, list, amounts)
		p.Colour(&optics)
		g := NewGauge(p.Lab)
		pairs, others := rows[rng.IntN(len(paints))], samples.Palette(len(paints), 0, 10, rng)
		var nearest [Regions]float32
		for i := range nearest {
			nearest[i] = float32(100 * rng.ExpFloat64())
		}
		worst := float32(100 * rng.ExpFloat64())
		var d, e [Lanes]float32
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

func loopPaints(t *testing.T) (paints []Paint, o Optics) {
	_, films := samples.Acrylics(t, "../../testdata/acrylics.csv")
	for i := range films {
		b, _ := Scaled(&films[i])
		paints = append(paints, b)
	}
	return paints, NewOptics(film.Dry, colour.D65())
}
