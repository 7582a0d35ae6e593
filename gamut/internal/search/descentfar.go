package search

import "fewtubes/gamut/internal/kernel"

// Far from the target a descent meets valleys that bend (bend.go), the edge
// (edge.go), and slopes so uneven that steps lead too far. This is the descent of
// descent.go with an eye to them; near the target it would only be slower.

// farOff is the squared difference from which descents and searches take care.
const farOff = 81

// farHopeful is hopeful where slopes tell less.
const farHopeful = 8

func (w *workspace) descendFar(least float64, iterations int) {
	damping, bent := 0.0, false
	for range iterations {
		if w.aim.Squared < met {
			return
		}
		if bent {
			w.bend()
		}
		w.slopes.Fill(w.here, &w.m.optics, w.aim)
		trace := w.derive()
		if damping == 0 {
			damping = 1e-3 * trace
		}
		moved, foretold := w.advanceFar(&damping, trace, least)
		if !moved {
			return
		}
		bent = (bent || !foretold) && w.aim.Squared > farOff
	}
}

// derive fills the slopes of the residuals by the amounts, and sums their squares.
func (w *workspace) derive() (trace float64) {
	for i, p := range w.list {
		j := &w.jac[i]
		w.slopes.By(j, &w.m.bands[p])
		trace += kernel.Dot(*j, *j)
	}
	return trace
}

// advanceFar takes one step that comes nearer, damping it more until it does, and
// tells whether it brought about what the slopes foretold.
func (w *workspace) advanceFar(damping *float64, trace, least float64) (moved, foretold bool) {
	for try := range mostDamped {
		d := max(*damping, 1e-12*trace)
		gain := kernel.Dot(w.aim.R, w.aim.R) - w.solveStep(d)
		if !w.leavesNothing() {
			if gain*gain < w.aim.Squared*(4*least*least) || try == 0 && w.aim.Squared-float64(farHopeful*gain) > w.hope {
				return false, false
			}
			w.tryStep()
			over, slides := w.aim.Crosses(w.aimNext), w.aim.Within(onEdge)
			if over && !slides {
				w.stopBefore()
			}
			if won := w.aim.Squared - w.aimNext.Squared; won > 0 && !w.aimNext.Within(offEdge) {
				switch {
				case won > 0.75*gain:
					*damping /= 8
				case won < 0.25*gain:
					*damping *= 3
				}
				w.accept()
				return true, try == 0 && !over && won > 0.5*gain && won < 2*gain
			}
			if over && slides {
				if w.slide(d, least) {
					return true, false
				}
				w.derive()
			}
		}
		*damping = 6 * d
	}
	return false, false
}

// leavesNothing reports whether the step takes away all paints.
func (w *workspace) leavesNothing() bool {
	for i, a := range w.amount {
		if a+w.step[i] > leastShare {
			return false
		}
	}
	return true
}
