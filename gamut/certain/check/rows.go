package check

import (
	"fmt"

	"fewtubes/gamut/colour"
)

// rows works out cuts in one kind of number.
type rows[T number[T]] struct {
	*Certificate
	light   *colour.Light
	weights map[int]*[colour.Bands]T // of the faces asked for
	number  T                        // any, that makes others
}

func rowsIn[T number[T]](c *Certificate, light *colour.Light, number T) *rows[T] {
	return &rows[T]{c, light, map[int]*[colour.Bands]T{}, number}
}

func (w *rows[T]) of(x float64) T { return w.number.of(x) }

// weight is how much R of each band counts in a face.
func (w *rows[T]) weight(face int) *[colour.Bands]T {
	if known := w.weights[face]; known != nil {
		return known
	}
	var out [colour.Bands]T
	for b := range out {
		out[b] = w.of(0)
		for k, n := range w.Faces[face].Normal {
			out[b] = out[b].plus(w.of(n).times(w.of(w.light.Weights[k][b])))
		}
	}
	w.weights[face] = &out
	return &out
}

// cut is the row height N - sum weight R of a face, every R replaced by its
// plane: over R where the weight (its exact sign given) is below 0.
func (w *rows[T]) cut(l *limits, c *Cut, signs *[colour.Bands]int) *form[T] {
	out := newForm(w.number)
	out.n = w.of(w.Faces[c.Face].Height)
	weights := w.weight(c.Face)
	for b, sign := range signs {
		if sign == 0 {
			continue
		}
		value, fall, hinge := w.plane(l, b, sign < 0, c.Planes[b])
		weight := weights[b]
		out.n = out.n.minus(weight.times(value))
		out.k[b] = weight.times(fall)
		out.s[b] = w.of(0).minus(out.k[b].times(hinge))
	}
	return out
}

// usable reports whether a cell and a plane can make a bound.
func usable(l *limits, b int, over bool, p Plane) error {
	switch {
	case !(l.leastR[b] > 0 && l.leastR[b] <= l.mostR[b] && l.mostR[b] < 1 && l.leastS[b] > 0 && finite(true, l.mostS[b])):
		return fmt.Errorf("band %d: a cut needs all limits of the cell", b)
	case !over && !(p.Touch > 0 && p.Touch < 1):
		return fmt.Errorf("band %d: touch %g", b, p.Touch)
	}
	return nil
}

// plane bounds R by value N - fall (K - hinge S).
func (w *rows[T]) plane(l *limits, b int, over bool, p Plane) (value, fall, hinge T) {
	low, high := w.of(l.leastR[b]), w.of(l.mostR[b])
	end := high // q is least where r is most
	if p.High {
		end = low
	}
	hinge = w.ratio(end)
	if over {
		fall, value = w.fall(low, high), w.seen(end)
	} else {
		t := w.of(p.Touch)
		fall = w.fall(t, t)
		value = w.seen(t).minus(fall.times(hinge.minus(w.ratio(t))))
	}
	// (K - hinge S)/S is >= 0 at the low hinge and <= 0 at the high one; a limit
	// of S in the place of S errs to the side that keeps the bound
	if over != p.High {
		return value, fall.over(w.of(l.mostS[b])), hinge
	}
	return value, fall.over(w.of(l.leastS[b])), hinge
}

// ratio is q = (1-r)^2/(2r).
func (w *rows[T]) ratio(r T) T {
	q := w.of(1).minus(r)
	return q.times(q).over(r.plus(r))
}

// seen is R = k1 + (1-k1)(1-k2) r/(1-k2 r).
func (w *rows[T]) seen(r T) T {
	return w.of(w.Surface.K1).plus(w.through().times(r).over(w.inside(r)))
}

func (w *rows[T]) through() T {
	return w.of(1).minus(w.of(w.Surface.K1)).times(w.of(1).minus(w.of(w.Surface.K2)))
}

func (w *rows[T]) inside(r T) T { return w.of(1).minus(w.of(w.Surface.K2).times(r)) }

// fall is how fast R falls with q along the chord from r to t; r = t: along the
// tangent. It is (R(r) - R(t))/(q(t) - q(r)) with r - t cancelled.
func (w *rows[T]) fall(r, t T) T {
	top := w.through().times(r).times(t)
	return top.plus(top).over(w.inside(r)).over(w.inside(t)).over(w.of(1).minus(r.times(t)))
}
