package search

import (
	"math"

	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/portable"
)

// The nearest mix to a far target often lies on the edge where CIEDE2000 jumps,
// where a plain step only ever meets the jump.

// Turns of hue in radians: nearer to the edge than onEdge a mix goes along it, and
// none is taken that is nearer than offEdge, where rounding would choose its side.
const (
	onEdge  = 1e-3
	offEdge = 1e-5
)

// stopBefore shortens the step tried over the edge to end before it where that is
// nearer.
func (w *workspace) stopBefore() {
	whole, over := w.whole[:len(w.list)], w.aimNext.Squared
	copy(whole, w.step)
	lo, hi := 0.0, 1.0
	for range edgeHalvings {
		mid := (lo + hi) / 2
		if w.tryPart(whole, mid); w.aimNext.Within(offEdge) || w.aim.Crosses(w.aimNext) {
			hi = mid
		} else {
			lo = mid
		}
	}
	if w.tryPart(whole, lo); w.aimNext.Squared > over || w.aimNext.Within(offEdge) {
		w.tryPart(whole, 1)
	}
}

// edgeHalvings is how often a way over the edge is halved to find it.
const edgeHalvings = 12

func (w *workspace) tryPart(step []float64, part float64) {
	for i, d := range step {
		w.step[i] = part * d
	}
	w.tryStep()
}

// slide takes one step along the edge instead of over it: of the two chromatic
// residuals only the direction that keeps the turn of hue counts, and leaving
// it is made dear. It reports whether the step came nearer.
func (w *workspace) slide(damping, least float64) bool {
	const dear = 100
	aim, r := w.aim, w.aim.R
	defer func() { aim.R = r }()
	d, g := &aim.DAB, aim.DTurn
	u := [2]float64{float64(d[0][1]*g[0]) - float64(d[0][0]*g[1]), float64(d[1][1]*g[0]) - float64(d[1][0]*g[1])}
	length := portable.Hypot(u[0], u[1])
	if length == 0 {
		return false
	}
	u[0], u[1] = u[0]/length, u[1]/length
	aim.R = [3]float64{r[0], float64(r[1]*u[0]) + float64(r[2]*u[1]), 0}
	for i := range w.list {
		j := w.jac[i]
		w.jac[i] = [3]float64{j[0], float64(j[1]*u[0]) + float64(j[2]*u[1]), dear * (float64(j[2]*u[0]) - float64(j[1]*u[1]))}
	}
	if w.careful {
		w.deriveTurn()
	}
	for range mostDamped {
		gain := kernel.Dot(aim.R, aim.R) - w.solveStep(damping)
		if gain*gain < aim.Squared*(4*least*least) {
			return false
		}
		w.tryStep()
		if w.careful { // the edge bends
			w.turnTo(-2 * offEdge)
		}
		if w.aimNext.Squared < aim.Squared && !(w.careful && w.aimNext.Within(offEdge)) {
			w.accept()
			return true
		}
		damping *= 8
	}
	return false
}

// hop goes over the edge, from less than a radian away, where the mix just beyond it
// is nearer.
func (w *workspace) hop() {
	const radian = 1.557 // its tangent
	if !w.aim.Within(radian) {
		return
	}
	w.slopes.Fill(w.here, &w.m.optics, w.aim)
	w.deriveTurn()
	clear(w.step[:len(w.list)])
	w.tryStep()
	if w.turnTo(2*offEdge) && w.aimNext.Squared < w.aim.Squared {
		w.accept()
	}
}

// turnRow is the slope of the turn of hue by X/Xn, Y/Yn, Z/Zn.
func (w *workspace) turnRow() [3]float64 {
	a, b := float64(500*w.aim.DTurn[0]), float64(200*w.aim.DTurn[1])
	return [3]float64{a * w.here.Cube[0], (b - a) * w.here.Cube[1], -b * w.here.Cube[2]}
}

// deriveTurn fills the slopes of the turn of hue by the amounts.
func (w *workspace) deriveTurn() {
	row := w.turnRow()
	var t [3]float64
	for i, p := range w.list {
		w.slopes.Weigh(&t, &w.m.bands[p])
		w.turns[i] = kernel.Dot(t, row)
	}
}

// turnTo mends the step tried so that it ends beyond the edge by an angle, or before it
// by a negative one: by the slope of the turn, and then by what that has changed. It
// reports whether it does.
func (w *workspace) turnTo(angle float64) bool {
	side, sum := math.Copysign(1, w.aim.Cross), 0.0
	for _, n := range w.turns[:len(w.list)] {
		sum += float64(n * n)
	}
	left := beyondEdge(w.aimNext, side) - angle
	for add := left; math.Abs(left) > offEdge/2; {
		for i, c := range w.amount {
			w.step[i] = max(-c, w.step[i]-float64(side*add*w.turns[i]/sum))
		}
		if sum == 0 || w.leavesNothing() {
			return false
		}
		w.tryStep()
		was := left
		if left = beyondEdge(w.aimNext, side) - angle; !(math.Abs(left) < math.Abs(was)) {
			return false
		}
		add *= left / (was - left)
	}
	return true
}

// beyondEdge is how far a mix is beyond the edge as seen from one side of it: the angle,
// where that is small, and 1 for a right angle.
func beyondEdge(f *kernel.Residual, side float64) float64 {
	y, x := -side*f.Cross, -f.Along
	part := y / (math.Abs(y) + math.Abs(x))
	if x < 0 {
		return math.Copysign(2, y) - part
	}
	return part
}
