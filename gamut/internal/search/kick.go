package search

import (
	"math"

	"fewtubes/gamut/internal/kernel"
)

// keepBetter takes the present mix as the best if it is, and counts how often
// the best has been met.
func (w *workspace) keepBetter(again int) int {
	const same = 1e-3 // of the square
	gain := w.best.squared - w.aim.Squared
	if gain > 0 {
		w.save(&w.best)
	}
	switch {
	case gain > same*w.aim.Squared:
		return 0
	case gain > -same*w.aim.Squared:
		return again + 1
	}
	return again
}

// kickShare is the scaled amount of a kicked paint beside 1 of the mix.
const kickShare = 0.4

// shiftShare is the scaled amount that a paint of the mix gets beside 1 of it.
const shiftShare = 1

// kick gives paints outside the best mix a good share of it and settles again,
// since a paint may be of use only together with a shift of the others.
func (w *workspace) kick(count int) {
	clear(w.kicked)
	for range count {
		if w.best.squared <= w.enough {
			return
		}
		w.restore(&w.best)
		p := w.leastUnwilling()
		if p < 0 {
			w.shift()
			return
		}
		w.kicked.Add(p)
		w.list, w.amount = append(w.list, p), append(w.amount, kickShare)
		normalise(w.amount)
		w.evaluate()
		w.descend(fullLook)
		w.dropNothing()
		if len(w.list) > w.limit {
			w.leaveOneOut()
		}
		w.settle()
		w.keepBetter(0)
	}
}

// shift gives each paint of the best mix in turn more of it and descends again: where
// no paint is left outside, the nearest mix may be one of the same paints in quite
// other amounts.
func (w *workspace) shift() {
	w.save(&w.shifted)
	for i := range w.shifted.list {
		if w.best.squared <= w.enough {
			return
		}
		w.restore(&w.shifted)
		w.amount[i] += shiftShare
		normalise(w.amount)
		w.evaluate()
		w.descend(fullLook)
		w.dropNothing()
		w.settle()
		w.keepBetter(0)
	}
}

// leastUnwilling is the paint neither in the mix nor kicked before that pulls
// least away from the target, or -1.
func (w *workspace) leastUnwilling() int {
	w.slopes.Fill(w.here, &w.m.optics, w.aim)
	best, least := -1, math.Inf(1)
	var j [3]float64
	for _, p := range w.members {
		if w.kicked.Has(p) || w.inSupport(p) {
			continue
		}
		w.slopes.By(&j, &w.m.bands[p])
		if away := kernel.Dot(j, w.aim.R) / math.Sqrt(kernel.Dot(j, j)); away < least {
			best, least = p, away
		}
	}
	return best
}
