package gamut

import "fewtubes/gamut/portable"

// CIEDE2000 jumps where the hue of a mix is exactly opposite to that of the
// target, because the mean hue changes sides (Sharma, Wu, Dalal 2005, section
// on discontinuities). The nearest mix to a far target often lies on that edge,
// where a plain step only ever meets the jump.

// fallsOff reports whether the way from f to next crosses the edge upwards.
func (f *residual) fallsOff(next *residual) bool {
	return next.squared > f.squared && f.along < 0 && f.cross*next.cross < 0
}

// slide takes one step along the edge instead of over it: of the two chromatic
// residuals only the direction that keeps the turn of hue counts, and leaving
// it is made dear. It reports whether the step came nearer.
func (w *workspace) slide(damping, least float64) bool {
	const dear = 100
	aim, r := w.aim, w.aim.r
	defer func() { aim.r = r }()
	d, g := &aim.dAB, aim.dTurn
	u := [2]float64{float64(d[0][1]*g[0]) - float64(d[0][0]*g[1]), float64(d[1][1]*g[0]) - float64(d[1][0]*g[1])}
	length := portable.Hypot(u[0], u[1])
	if length == 0 {
		return false
	}
	u[0], u[1] = u[0]/length, u[1]/length
	aim.r = [3]float64{r[0], float64(r[1]*u[0]) + float64(r[2]*u[1]), 0}
	for i := range w.list {
		j := w.jac[i]
		w.jac[i] = [3]float64{j[0], float64(j[1]*u[0]) + float64(j[2]*u[1]), dear * (float64(j[2]*u[0]) - float64(j[1]*u[1]))}
	}
	for range mostDamped {
		gain := dot(aim.r, aim.r) - w.solveStep(damping)
		if gain*gain < aim.squared*(4*least*least) {
			return false
		}
		if w.tryStep(); w.aimNext.squared < aim.squared {
			w.accept()
			return true
		}
		damping *= 8
	}
	return false
}
