package search

import "fewtubes/gamut/internal/kernel"

// Stopping rules of a descent, in squared CIEDE2000 and CIEDE2000.
const (
	met        = 1e-8 // squared: a target this near is reached
	leastGain  = 1e-4 // a step predicted to gain less ends the descent
	mostDamped = 10   // tries of one step
)

// descend moves the amounts of the support towards the target: Levenberg-
// Marquardt on the three residuals, amounts kept >= 0, until a step promises
// less than leastGain or the iterations are spent. It wants here evaluated, and
// leaves it so. Paints may end at amount 0.
func (w *workspace) descend(iterations int) { w.descendUntil(leastGain, iterations) }

func (w *workspace) descendUntil(gain float64, iterations int) {
	if w.careful {
		w.descendFar(gain, iterations)
		return
	}
	damping := 0.0
	for range iterations {
		if w.aim.Squared < met {
			return
		}
		w.slopes.Fill(w.here, &w.m.optics, w.aim)
		trace := 0.0
		for i, p := range w.list {
			j := &w.jac[i]
			w.slopes.By(j, &w.m.bands[p])
			trace += float64(j[0]*j[0]) + float64(j[1]*j[1]) + float64(j[2]*j[2])
		}
		if damping == 0 {
			damping = 1e-3 * trace
		}
		if !w.advance(&damping, trace, gain) {
			return
		}
	}
}

// advance takes one step that comes nearer, damping it more until it does; false
// when none is worth taking.
func (w *workspace) advance(damping *float64, trace, least float64) bool {
	for try := range mostDamped {
		gain := w.aim.Squared - w.solveStep(max(*damping, 1e-12*trace))
		if gain*gain < w.aim.Squared*(4*least*least) || try == 0 && w.aim.Squared-float64(hopeful*gain) > w.hope {
			return false
		}
		w.tryStep()
		won := w.aim.Squared - w.aimNext.Squared
		if won > 0 {
			switch {
			case won > 0.75*gain:
				*damping /= 8
			case won < 0.25*gain:
				*damping *= 3
			}
			w.accept()
			return true
		}
		if w.aim.FallsOff(w.aimNext) {
			return w.slide(max(*damping, 1e-12*trace), least)
		}
		*damping *= 6
	}
	return false
}

// accept makes the mixture tried the present one.
func (w *workspace) accept() {
	w.here, w.next = w.next, w.here
	w.aim, w.aimNext = w.aimNext, w.aim
	copy(w.amount, w.trial)
}

// tryStep evaluates the amounts after the step.
func (w *workspace) tryStep() {
	trial := w.trial[:len(w.list)]
	for i, c := range w.amount {
		trial[i] = max(0, c+w.step[i])
	}
	normalise(trial)
	w.next.Mix(w.m.bands, w.list, trial)
	w.next.Colour(&w.m.optics)
	w.aimNext.At(w.next.Lab)
}

// solveStep minimises |r + J step|^2 + damping |step|^2 with amount + step >= 0
// and returns the first term. With three residuals the step is J' times the
// solution of a 3x3 system, whatever the number of paints. Paints that would
// fall below 0 are held there and the rest solved again.
func (w *workspace) solveStep(damping float64) float64 {
	n := len(w.list)
	r := w.aim.R
	for i := range n {
		w.step[i] = 0
		w.free[i] = w.amount[i] > 0 || kernel.Dot(w.jac[i], w.aim.R) < 0
	}
	for range n {
		y := w.solveNormal(r, damping)
		clipped := false
		for i := range n {
			if !w.free[i] {
				continue
			}
			d := -kernel.Dot(w.jac[i], y)
			if w.amount[i]+d < 0 {
				d = -w.amount[i]
				w.free[i], clipped = false, true
				for k := range r {
					r[k] += float64(w.jac[i][k] * d)
				}
			}
			w.step[i] = d
		}
		if !clipped {
			break
		}
	}
	left := w.aim.R
	for i := range n {
		for k := range left {
			left[k] += float64(w.jac[i][k] * w.step[i])
		}
	}
	return kernel.Dot(left, left)
}

// solveNormal solves (damping I + sum of j j' over free paints) y = r by the
// adjugate of the symmetric matrix.
func (w *workspace) solveNormal(r [3]float64, damping float64) (y [3]float64) {
	a, d, f := damping, damping, damping
	var b, c, e float64
	for i := range w.list {
		if w.free[i] {
			j := &w.jac[i]
			a += float64(j[0] * j[0])
			b += float64(j[0] * j[1])
			c += float64(j[0] * j[2])
			d += float64(j[1] * j[1])
			e += float64(j[1] * j[2])
			f += float64(j[2] * j[2])
		}
	}
	c00, c01, c02 := float64(d*f)-float64(e*e), float64(c*e)-float64(b*f), float64(b*e)-float64(c*d)
	inverse := 1 / (float64(a*c00) + float64(b*c01) + float64(c*c02))
	y[0] = (float64(c00*r[0]) + float64(c01*r[1]) + float64(c02*r[2])) * inverse
	y[1] = (float64(c01*r[0]) + float64((float64(a*f)-float64(c*c))*r[1]) + float64((float64(b*c)-float64(a*e))*r[2])) * inverse
	y[2] = (float64(c02*r[0]) + float64((float64(b*c)-float64(a*e))*r[1]) + float64((float64(a*d)-float64(b*b))*r[2])) * inverse
	return y
}

// normalise scales amounts to sum 1, which changes no colour.
func normalise(amount []float64) {
	sum := 0.0
	for _, a := range amount {
		sum += a
	}
	sum = 1 / sum
	for i := range amount {
		amount[i] *= sum
	}
}
