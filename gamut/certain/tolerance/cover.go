package tolerance

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
)

// whole holds every colour of a reflectance within 0..1 under any light.
var whole = box{{-1, 101}, {-450, 450}, {-210, 210}}

// Holds proves that every colour within tol (CIEDE2000) of the target lies
// inside every face: boxes of Lab are halved until each is proved. bad marks the
// faces that were found false or resisted when the budget of boxes ran out or
// the context ended.
func Holds(ctx context.Context, target colour.Lab, white colour.XYZ, tol float64, faces []check.Face, budget int) (bad []bool, ok bool) {
	return HoldsCounted(ctx, target, white, tol, faces, budget, func(int) {})
}

// HoldsCounted is Holds that tells of every box how many faces it is held against
// before it is.
func HoldsCounted(ctx context.Context, target colour.Lab, white colour.XYZ, tol float64, faces []check.Face, budget int, count func(faces int)) (bad []bool, ok bool) {
	type task struct {
		box  box
		left []int // faces not yet proved on this box
	}
	c := cover{target, white, tol, up(tol * tol), faces}
	all := make([]int, len(faces))
	for j := range all {
		all[j] = j
	}
	bad = make([]bool, len(faces))
	stack := []task{{whole, all}}
	for n := 0; len(stack) > 0; n++ {
		if n%64 == 0 && ctx.Err() != nil {
			n = budget + 1
		}
		t := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		count(len(t.left))
		left := c.unproved(t.box, t.left)
		if left = c.dropFalse(t.box, left, bad); len(left) < 1 {
			continue
		}
		switch {
		case n > budget || t.box.size() < 1e-3*tol:
			for _, j := range left {
				bad[j] = true
			}
			if n > budget {
				return bad, false
			}
		default:
			p, q := t.box.halves()
			stack = append(stack, task{p, left}, task{q, left})
		}
	}
	return bad, !slices.Contains(bad, true)
}

// dropFalse marks the faces that the middle of the box lies beyond though it is
// within the tolerance, and keeps the others.
func (c *cover) dropFalse(x box, left []int, bad []bool) (kept []int) {
	mid, _ := x.middle()
	m := colour.Lab{L: mid[0], A: mid[1], B: mid[2]}
	within := colour.DE2000(c.target, m) <= c.tol
	at := m.XYZ(c.white)
	for _, j := range left {
		n := c.faces[j].Normal
		if within && float64(n[0]*at.X)+float64(n[1]*at.Y)+float64(n[2]*at.Z) > c.faces[j].Height {
			bad[j] = true
		}
		if !bad[j] {
			kept = append(kept, j)
		}
	}
	return kept
}

// cover is what the boxes are held against.
type cover struct {
	target  colour.Lab
	white   colour.XYZ
	tol     float64
	squared float64 // tolerance squared, rounded up
	faces   []check.Face
}

// unproved keeps the faces for which the box may hold a colour within the
// tolerance but beyond the face.
func (c *cover) unproved(x box, among []int) (kept []int) {
	d := x.squared(c.target)
	if d.v.lo > c.squared {
		return nil
	}
	if x.size() > 16 {
		return among
	}
	mid, half := x.middle()
	centre := box{point(mid[0]), point(mid[1]), point(mid[2])}
	excess := centre.squared(c.target).v.lo - c.squared
	usable := d.usable()
	if usable && lowest(excess, d.d, half) > 0 {
		return nil
	}
	at, slopes := c.tristimulus(centre), c.tristimulusSlopes(x)
	for _, j := range among {
		f := &c.faces[j]
		room := point(f.Height)
		var fall [3]interval // of the room, per coordinate
		for k := range 3 {
			n := point(f.Normal[k])
			room = room.sub(n.mul(at[k]))
			for i := range 3 {
				fall[i] = fall[i].sub(n.mul(slopes[k][i]))
			}
		}
		if lowest(room.lo, fall, half) >= 0 || usable && together(excess, d.d, room.lo, fall, half) {
			continue
		}
		kept = append(kept, j)
	}
	return kept
}

// lowest is the centred form: a value in the middle less the steepest fall.
func lowest(middle float64, slopes [3]interval, half [3]float64) float64 {
	for k, s := range slopes {
		middle = down(middle - up(max(-s.lo, s.hi)*half[k]))
	}
	return middle
}

// together proves that no colour of the box is both within the tolerance
// (excess <= 0) and beyond the face (room < 0): excess + m room > 0 does, for
// any m >= 0. Where the face touches the region the slopes of the two cancel.
func together(excess float64, rise [3]interval, room float64, fall [3]interval, half [3]float64) bool {
	for k := range 3 {
		m := -(rise[k].lo + rise[k].hi) / (fall[k].lo + fall[k].hi)
		if !(m > 0) || math.IsInf(m, 1) {
			continue
		}
		var sum [3]interval
		for i := range 3 {
			sum[i] = rise[i].add(point(m).mul(fall[i]))
		}
		if lowest(down(excess+down(m*room)), sum, half) > 0 {
			return true
		}
	}
	return false
}

func (x box) size() float64 {
	return max(x[0].hi-x[0].lo, x[1].hi-x[1].lo, x[2].hi-x[2].lo)
}

// middle is the centre and the half sides, with room for the rounding of both.
func (x box) middle() (mid, half [3]float64) {
	const spare = 1e-11
	for k, s := range x {
		mid[k], half[k] = s.lo+float64((s.hi-s.lo)/2), float64((s.hi-s.lo)/2)+spare
	}
	return mid, half
}

// halves cuts the longest side.
func (x box) halves() (p, q box) {
	k := 0
	for i := range x {
		if x[i].hi-x[i].lo > x[k].hi-x[k].lo {
			k = i
		}
	}
	p, q = x, x
	m := x[k].lo + float64((x[k].hi-x[k].lo)/2)
	p[k].hi, q[k].lo = m, m
	return p, q
}

// tristimulus ranges over X, Y, Z.
func (c *cover) tristimulus(x box) (out [3]interval) {
	f := functions(x)
	for k, w := range [3]float64{c.white.X, c.white.Y, c.white.Z} {
		out[k] = point(w).mul(cubes(f[k]))
	}
	return out
}

// tristimulusSlopes are d(X,Y,Z)/d(L,a,b).
func (c *cover) tristimulusSlopes(x box) (out [3][3]interval) {
	f := functions(x)
	for k, w := range [3]float64{c.white.X, c.white.Y, c.white.Z} {
		s := point(w).mul(cubeSlopes(f[k]))
		out[k][0] = s.over(point(116))
		switch k {
		case 0:
			out[k][1] = s.over(point(500))
		case 2:
			out[k][2] = point(-1).mul(s.over(point(200)))
		}
	}
	return out
}

// functions are f(X/Xn), f(Y/Yn), f(Z/Zn) of CIE 015, section 8.2.1.
func functions(x box) [3]interval {
	fy := x[0].add(point(16)).over(point(116))
	return [3]interval{fy.add(x[1].over(point(500))), fy, fy.sub(x[2].over(point(200)))}
}

// The inverse of f: a cube above 6/29, a line below; both pieces grow.
const (
	knee    = 6.0 / 29
	incline = 3 * knee * knee
	offset  = 4.0 / 29
)

func cubes(f interval) interval {
	at := func(v float64) interval {
		if v > knee {
			return point(v).square().mul(point(v))
		}
		return interval{incline * (1 - slop), incline * (1 + slop)}.mul(point(v).sub(interval{offset - slop, offset + slop}))
	}
	return interval{at(f.lo).lo, at(f.hi).hi}
}

// cubeSlopes ranges over the slope, which never falls.
func cubeSlopes(f interval) interval {
	at := func(v float64) float64 { return 3 * max(v, knee) * max(v, knee) }
	return interval{at(f.lo) * (1 - slop), at(f.hi) * (1 + slop)}
}
