package search

import (
	"math"

	"fewtubes/gamut/colour"
)

// metByParts is the squared difference below which free amounts are near enough
// for whole parts.
const metByParts = 1e-4

// Fit is the nearest mix of exactly these paints, from equal scaled amounts and
// from much of each in turn: scaled amounts and CIEDE2000.
func (m *Paints) Fit(target colour.Lab, paints []int) (amounts []float64, de float64) {
	w := m.workspace()
	defer m.pool.Put(w)
	w.begin(target, nil)
	amounts = make([]float64, len(paints))
	least := math.Inf(1)
	for lean := -1; lean < len(paints) && least > metByParts; lean++ {
		w.list = append(w.list[:0], paints...)
		w.amount = w.amount[:0]
		for i := range paints {
			a := 1.0
			if i == lean {
				a = 8
			}
			w.amount = append(w.amount, a)
		}
		normalise(w.amount)
		w.evaluate()
		w.descend(fullLook)
		if w.aim.Squared < least {
			least = w.aim.Squared
			copy(amounts, w.amount)
		}
	}
	return amounts, math.Sqrt(least)
}
