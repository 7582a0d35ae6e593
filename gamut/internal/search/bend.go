package search

import (
	"math"

	"fewtubes/gamut/colour"
)

// Far from the target the difference bends more than its own residuals tell: a
// least-squares step takes the curvature from their slopes alone, which is all of
// it only where they are small. Beside the grey axis, on the far side from the
// target, such steps go to and fro across a valley.

const (
	bendStep = 1e-3 // in a and b, for the curvature by differences
	flattest = 0.01 // the least curvature in one direction beside that in the other
)

// bend puts in place of the two chromatic residuals others with the gradient of
// the present difference and with its own curvature by a and b, turned upwards
// where it is downwards.
func (w *workspace) bend() {
	f, lab := w.aim, w.here.Lab
	g := f.Gradient()
	byA, byB := w.bent(&lab, &lab.A, g), w.bent(&lab, &lab.B, g)
	p, q, r := byA[0], (byA[1]+byB[0])/2, byB[1]
	middle, half := float64((p+r)/2), float64((p-r)/2)
	apart := math.Sqrt(float64(half*half) + float64(q*q))
	if apart == 0 {
		return
	}
	// The direction of the larger eigenvalue, by half an angle.
	cos := math.Sqrt(max(0, (1+half/apart)/2))
	sin := math.Copysign(math.Sqrt(max(0, (1-half/apart)/2)), q)
	one, two := math.Abs(middle+apart), math.Abs(middle-apart)
	least := flattest * max(one, two)
	one, two = math.Sqrt(max(one, least)), math.Sqrt(max(two, least))
	f.R[1] = (float64(cos*g[0]) + float64(sin*g[1])) / one
	f.R[2] = (float64(cos*g[1]) - float64(sin*g[0])) / two
	f.DAB = [2][2]float64{{cos * one, sin * one}, {-sin * two, cos * two}}
}

// bent is the change of the gradient along x, a coordinate of lab, on the same side
// of the edge.
func (w *workspace) bent(lab *colour.Lab, x *float64, g [2]float64) [2]float64 {
	was, step := *x, bendStep
	*x = was + step
	if w.aimNext.At(*lab); w.aim.Crosses(w.aimNext) {
		step = -step
		*x = was + step
		w.aimNext.At(*lab)
	}
	*x = was
	there := w.aimNext.Gradient()
	return [2]float64{(there[0] - g[0]) / step, (there[1] - g[1]) / step}
}
