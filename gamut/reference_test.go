package gamut

import (
	"math"
	"math/rand/v2"

	"fewtubes/gamut/colour"
)

// sparse sets amounts at random with many near the ends, as tinters need.
func sparse(rng *rand.Rand, amount []float64) {
	for i := range amount {
		amount[i] = math.Exp(4 * rng.NormFloat64() * rng.Float64())
	}
	normalise(amount)
}

// exhaustive is the reference for the closest mix: every support of the
// palette up to the limit of paints, descended from at least perSupport random
// starts, and at least 200 in all. It uses neither the bank nor the search over
// supports.
func exhaustive(m *Mixer, target colour.Lab, palette []int, perSupport int, rng *rand.Rand) float64 {
	w := newWorkspace(m)
	w.begin(target, SetOf(m.Len(), palette...))
	size := min(m.limit, len(palette))
	supports := 1
	for i := range size {
		supports = supports * (len(palette) - i) / (i + 1)
	}
	starts := max(perSupport, (200+supports-1)/supports)
	best := math.Inf(1)
	eachSupport(palette, size, func(support []int) {
		for range starts {
			w.list = append(w.list[:0], support...)
			w.amount = w.amount[:0]
			for range support {
				w.amount = append(w.amount, 1)
			}
			sparse(rng, w.amount)
			w.evaluate()
			w.descend(60)
			best = min(best, w.aim.squared)
		}
	})
	return math.Sqrt(best)
}

func eachSupport(from []int, size int, visit func([]int)) {
	chosen := make([]int, 0, size)
	var rec func(at int)
	rec = func(at int) {
		if len(chosen) == size {
			visit(chosen)
			return
		}
		for i := at; i+size-len(chosen) <= len(from); i++ {
			chosen = append(chosen, from[i])
			rec(i + 1)
			chosen = chosen[:len(chosen)-1]
		}
	}
	rec(0)
}
