package check

import (
	"math"

	"fewtubes/gamut/colour"
)

// Face is a half-space of tristimulus values: Normal . (X,Y,Z) <= Height.
type Face struct {
	Normal [3]float64
	Height float64
}

// whole holds every colour of reflectances within 0 and 1: there L* lies within 0
// and 100, f(X/Xn) and the like within 4/29 and 1, and so a* within 431, b* within
// 173 of 0.
var whole = box{{-1, 101}, {-450, 450}, {-210, 210}}

// covering proves that every colour within the tolerance of a target keeps to
// every face: boxes of colours are halved until on each, for every face, the one or
// the other is sure.
type covering struct {
	from    *difference
	squared float64 // the tolerance, rounded up
	white   [3]float64
	faces   []Face
}

func newCovering(c *Certificate, light *colour.Light) *covering {
	return &covering{
		from: differenceFrom(c.Target), squared: up(float64(c.Tolerance * c.Tolerance)),
		white: [3]float64{light.White.X, light.White.Y, light.White.Z}, faces: c.Faces,
	}
}

// most boxes are looked at, and none smaller than a part of the tolerance.
const (
	mostBoxes = 4_000_000
	smallest  = 2e-4
)

// holds is false with a face that may leave out a colour, or with -1 where the
// boxes ran out.
func (c *covering) holds(m *meter, tolerance float64) (face int, ok bool) {
	type task struct {
		box
		left []int // faces that are not yet sure
	}
	every := make([]int, len(c.faces))
	for j := range every {
		every[j] = j
	}
	stack := []task{{whole, every}}
	for n := 0; len(stack) > 0; n++ {
		t := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		m.spend(perBox + Work(len(t.left))*perBoxFace)
		left := c.unsure(t.box, t.left)
		switch {
		case len(left) == 0:
			continue
		case n == mostBoxes:
			return -1, false
		case t.size() < smallest*tolerance:
			return left[0], false
		}
		p, q := t.halves()
		stack = append(stack, task{p, left}, task{q, left})
	}
	return 0, true
}

// unsure are the faces beyond which the box may hold a colour within the tolerance.
func (c *covering) unsure(x box, among []int) (left []int) {
	over := c.from.squared(x)
	if over.v.lo > c.squared {
		return nil
	}
	const coarse = 16 // slopes say nothing of a box as large as that
	if x.size() > coarse {
		return among
	}
	middle, half := x.middle()
	above := down(c.from.squared(middle).v.lo - c.squared)
	sloping := over.usable()
	if sloping && leastOf(above, &over.d, &half) > 0 {
		return nil
	}
	at, slopes := c.seen(middle), c.seenSlopes(x)
	for _, j := range among {
		f := &c.faces[j]
		room, fall := point(f.Height), [3]interval{}
		for k, n := range f.Normal {
			room = room.minus(point(n).times(at[k]))
			for i := range fall {
				fall[i] = fall[i].minus(point(n).times(slopes[k][i]))
			}
		}
		if leastOf(room.lo, &fall, &half) >= 0 || sloping && parted(above, &over.d, room.lo, &fall, &half) {
			continue
		}
		left = append(left, j)
	}
	return left
}

// leastOf is a lower bound over a box from the value in its middle and the slopes.
func leastOf(middle float64, slopes *[3]interval, half *[3]float64) float64 {
	for k, s := range slopes {
		middle = down(middle - up(max(-s.lo, s.hi)*half[k]))
	}
	return middle
}

// parted proves that no colour of the box is both within the tolerance (over <= 0)
// and beyond the face (room < 0): where over + m room > 0 for an m >= 0 none is. At
// the place where a face touches the region, the slopes of the two cancel for one m.
func parted(over float64, rise *[3]interval, room float64, fall *[3]interval, half *[3]float64) bool {
	for k := range fall {
		m := -(rise[k].lo + rise[k].hi) / (fall[k].lo + fall[k].hi)
		if !(m > 0 && m < math.Inf(1)) {
			continue
		}
		var sum [3]interval
		for i := range sum {
			sum[i] = rise[i].plus(point(m).times(fall[i]))
		}
		if leastOf(down(over+down(m*room)), &sum, half) > 0 {
			return true
		}
	}
	return false
}

func (x *box) size() float64 {
	return max(x[0].hi-x[0].lo, x[1].hi-x[1].lo, x[2].hi-x[2].lo)
}

// middle is a point of the box, and how far the box reaches from it at most.
func (x *box) middle() (middle box, half [3]float64) {
	for k, s := range x {
		m := s.lo + float64((s.hi-s.lo)/2)
		middle[k], half[k] = point(m), up(max(up(s.hi-m), up(m-s.lo)))
	}
	return middle, half
}

// halves cuts the longest side.
func (x *box) halves() (p, q box) {
	k := 0
	for i, s := range x {
		if s.hi-s.lo > x[k].hi-x[k].lo {
			k = i
		}
	}
	p, q = *x, *x
	m := x[k].lo + float64((x[k].hi-x[k].lo)/2)
	p[k].hi, q[k].lo = m, m
	return p, q
}

// cubeRoots are f(X/Xn), f(Y/Yn), f(Z/Zn) of CIE 015, section 8.2.1.
func (x *box) cubeRoots() [3]interval {
	y := x[0].plus(point(16)).over(point(116))
	return [3]interval{y.plus(x[1].over(point(500))), y, y.minus(x[2].over(point(200)))}
}

// seen are X, Y and Z.
func (c *covering) seen(x box) (out [3]interval) {
	for k, f := range x.cubeRoots() {
		out[k] = point(c.white[k]).times(f.rising(cubed))
	}
	return out
}

// knee is where the line of f ends and the cube root begins.
var knee = ratio(6, 29)

// cubed is the inverse of f: a cube above the knee, a line below.
func cubed(f float64) interval {
	cube := point(f).times(point(f).square())
	line := point(3).times(knee.square()).times(point(f).minus(ratio(4, 29)))
	switch {
	case f > knee.hi:
		return cube
	case f < knee.lo:
		return line
	}
	return hull(cube, line)
}

// seenSlopes are d(X,Y,Z)/d(L*,a*,b*).
func (c *covering) seenSlopes(x box) (out [3][3]interval) {
	for k, f := range x.cubeRoots() {
		steep := interval{max(f.lo, knee.lo), max(f.hi, knee.hi)} // the slope of the line is that of the cube at the knee
		s := point(c.white[k]).times(point(3)).times(steep.square())
		out[k][0] = s.over(point(116))
		switch k {
		case 0:
			out[k][1] = s.over(point(500))
		case 2:
			out[k][2] = s.over(point(200)).negative()
		}
	}
	return out
}
