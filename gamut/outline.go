package gamut

import (
	"cmp"
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Outline is the convex hull, anticlockwise in a*, b*, of what the palette
// mixes at any lightness, traced as by Volume: for a plot of reach. Being a
// hull it holds some colours that no mix reaches.
func (m *Mixer) Outline(palette set.Set) [][2]float64 {
	trace := m.trace(palette)
	points := make([][2]float64, len(trace))
	for i, p := range trace {
		points[i] = [2]float64{p[1], p[2]}
	}
	return hull(points)
}

// hull is the convex hull of points, anticlockwise from the leftmost, without
// points on an edge (A. M. Andrew, Inf. Process. Lett. 9:216, 1979).
func hull(points [][2]float64) [][2]float64 {
	points = slices.Clone(points)
	slices.SortFunc(points, func(p, q [2]float64) int { return cmp.Or(cmp.Compare(p[0], q[0]), cmp.Compare(p[1], q[1])) })
	points = slices.Compact(points)
	if len(points) < 3 {
		return points
	}
	chain := func(points [][2]float64) (out [][2]float64) {
		for _, p := range points {
			for len(out) > 1 && turn(out[len(out)-2], out[len(out)-1], p) <= 0 {
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out[:len(out)-1]
	}
	lower := chain(points)
	slices.Reverse(points)
	return append(lower, chain(points)...)
}

// turn is positive when going from p by q to r turns left.
func turn(p, q, r [2]float64) float64 {
	return float64((q[0]-p[0])*(r[1]-p[1])) - float64((q[1]-p[1])*(r[0]-p[0]))
}

const (
	outlineNear = 0.5 // CIEDE2000 that counts as reached
	outlineStep = 0.5 // precision of a radius, CIELAB
	outlineMost = 160 // the largest radius looked at, CIELAB
)

// OutlineAt is the edge of what the palette mixes at one lightness (L*), as
// seen from the mix nearest to grey there: the farthest colour within reach in
// each of directions evenly spaced directions of the a*b* plane, found by
// bisection. It is nil where the palette mixes nothing of that lightness. What
// lies behind a dent, seen from the middle, is not shown.
func (m *Mixer) OutlineAt(palette set.Set, lightness float64, directions int) []colour.Lab {
	middle := m.Closest(colour.Lab{L: lightness}, palette, Search).Lab
	if math.Abs(middle.L-lightness) > 1 {
		return nil
	}
	edge := make([]colour.Lab, directions)
	for k := range edge {
		sin, cos := portable.Sincos(2 * math.Pi * float64(k) / float64(directions))
		at := func(r float64) colour.Lab {
			return colour.Lab{L: middle.L, A: middle.A + float64(r*cos), B: middle.B + float64(r*sin)}
		}
		lo, hi := 0.0, float64(outlineMost)
		for hi-lo > outlineStep {
			mid := (lo + hi) / 2
			if _, ok := m.Within(at(mid), palette, outlineNear, Quick); ok {
				lo = mid
			} else {
				hi = mid
			}
		}
		edge[k] = at(lo)
	}
	return edge
}
