package search

import "fewtubes/gamut/internal/kernel"

import "math"

// Choosing which paints of a palette stand in a mix: paints enter where they
// would pull the colour towards the target, and when the mix is full a better
// one takes the place of another.

const (
	firstLook  = 8    // iterations before other paints are considered
	fullLook   = 40   // iterations to a settled optimum
	mostMoves  = 16   // paints that may enter in one start
	leastEntry = 1e-4 // squared CIEDE2000 a paint must promise to enter
	leastShare = 1e-7 // scaled amounts below it are nothing
)

// settle goes from the present support to a mix that no paint of the palette
// improves by entering.
func (w *workspace) settle() {
	w.descend(firstLook)
	w.dropNothing()
	for range mostMoves {
		if w.aim.Squared < met || w.settledBefore() {
			return
		}
		enter := w.entering()
		if enter < 0 || !w.admit(enter) {
			break
		}
	}
	w.noteSettled()
}

// alikeSquares is the share of a squared difference by which two mixes of the
// same paints may differ and be taken for the same.
const alikeSquares = 1e-3

// settledBefore reports whether another start of this search ended at the
// present mix: what could enter has been tried there.
func (w *workspace) settledBefore() bool {
	for i := range w.settled {
		s := &w.settled[i]
		if math.Abs(s.squared-w.aim.Squared) <= alikeSquares*s.squared && w.samePaints(s.list) {
			return true
		}
	}
	return false
}

func (w *workspace) samePaints(list []int) bool {
	if len(list) != len(w.list) {
		return false
	}
	for _, p := range list {
		if !w.inSupport(p) {
			return false
		}
	}
	return true
}

// noteSettled remembers the present mix, as long as there is room.
func (w *workspace) noteSettled() {
	if n := len(w.settled); n < cap(w.settled) {
		w.settled = w.settled[:n+1]
		w.save(&w.settled[n])
	}
}

// entering is the paint outside the support that pulls straightest towards the
// target, or -1.
func (w *workspace) entering() int {
	w.slopes.Fill(w.here, &w.m.optics, w.aim)
	w.slopes.Towards(w.aim.R, &w.lean)
	best, most := -1, leastEntry*min(1, w.aim.Squared)
	var j [3]float64
	for _, p := range w.members {
		if g := w.lean.Dot(&w.m.bands[p]); g < 0 && !w.inSupport(p) {
			w.slopes.By(&j, &w.m.bands[p])
			if pull := g * g / kernel.Dot(j, j); pull > most {
				best, most = p, pull
			}
		}
	}
	return best
}

func (w *workspace) inSupport(p int) bool {
	for _, q := range w.list {
		if p == q {
			return true
		}
	}
	return false
}

// admit lets a paint enter and settles the rest; false, with nothing changed,
// when the mix is no better for it.
func (w *workspace) admit(p int) bool {
	w.save(&w.saved)
	w.list, w.amount = append(w.list, p), append(w.amount, 0)
	w.descend(fullLook)
	w.dropNothing()
	if len(w.list) > w.limit {
		w.leaveOneOut()
	}
	if w.aim.Squared > w.saved.squared-leastEntry/10 {
		w.restore(&w.saved)
		return false
	}
	return true
}

// dropNothing takes out paints that ended at nothing.
func (w *workspace) dropNothing() {
	n := len(w.list)
	for i := n - 1; i >= 0; i-- {
		if w.amount[i] < leastShare {
			w.dropAt(i)
		}
	}
	if len(w.list) < n {
		w.evaluate()
	}
}

// leaveOneOut brings an overfull mix back to the limit by the paint that is
// missed least.
func (w *workspace) leaveOneOut() {
	w.save(&w.kept)
	w.other.squared = -1
	for i := range w.kept.list {
		w.restore(&w.kept)
		w.dropAt(i)
		w.evaluate()
		w.descend(fullLook)
		if w.other.squared < 0 || w.aim.Squared < w.other.squared {
			w.dropNothing()
			w.save(&w.other)
		}
	}
	w.restore(&w.other)
}
