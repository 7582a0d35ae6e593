package few

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/internal/search"
)

// Whether two or three paints reach a colour, and how near they come, is settled
// by branch and bound over their mesh. Each colour is a point whose distance from
// the origin is its CIEDE2000 to the target, so what is asked is how near a bent
// line or a bent triangle comes to the origin. Taken for flat that is plain
// geometry; how far a piece bulges from flat shows at the middles of its edges. A
// piece that could still be nearer is divided there, and where it is flat enough a
// descent starts from it.

const (
	// mostBulge is how far a piece may come nearer than it seems when it is taken for
	// flat, as a part of what the middles of its edges are off by. Measured: 1.05 at
	// most; 4/3 is that of a quadratic surface.
	mostBulge = 4.0 / 3
	// halfBulge is that of its parts: a quarter would do for an even bend.
	halfBulge = mostBulge / 2

	// flatEnough is the CIEDE2000 by which the middles may be off where a descent
	// starts. Measured: from 0.1 to 1 the sets listed stay the same.
	flatEnough = 1
	mostHalved = 4 // times a piece is divided
)

// closer looks for a mix of a set of paints that comes below a bound.
type closer struct {
	*search.Descent
	paints int // of the mixes looked at
	target kernel.Residual
	metric [2][2]float64 // of a* and b* near the target
	bound  float64       // CIEDE2000: of the nearest mix found, if any
	enough float64       // a mix as near as this ends the look
}

// corner is a mix of the paints looked at.
type corner struct {
	weight [3]float64 // amounts are their squares
	r      [3]float64 // where it lies from the target
}

// part is a piece of a mesh or a part of one: a segment or a triangle.
type part struct {
	n        int // corners
	corners  [3]corner
	distance float64    // how near it comes, taken for flat
	weight   [3]float64 // where
}

// aimAt takes a target.
func (c *closer) aimAt(target colour.Lab) {
	c.target = kernel.NewResidual(target)
	c.target.At(c.target.Target)
	c.metric = c.target.DAB
}

// begin starts a look at some paints.
func (c *closer) begin(paints []int, bound float64) {
	c.Begin(paints)
	c.paints, c.bound = len(paints), bound
}

// done reports whether the nearest mix found is enough.
func (c *closer) done() bool { return c.Found() && c.bound <= c.enough }

// see is where a colour lies from the target: as far off as CIEDE2000 says, in the
// direction of its a* and b* by the metric near the target. (The residuals of a
// descent are as long, but where hues are opposite they change sides.)
func (c *closer) see(lab colour.Lab) [3]float64 {
	f := &c.target
	f.At(lab)
	a, b := lab.A-f.Target.A, lab.B-f.Target.B
	x := float64(c.metric[0][0]*a) + float64(c.metric[0][1]*b)
	y := float64(c.metric[1][0]*a) + float64(c.metric[1][1]*b)
	long := float64(x*x) + float64(y*y)
	if long == 0 {
		return [3]float64{f.R[0]}
	}
	scale := math.Sqrt((float64(f.R[1]*f.R[1]) + float64(f.R[2]*f.R[2])) / long)
	return [3]float64{f.R[0], x * scale, y * scale}
}

// corner evaluates the mix at some weights.
func (c *closer) corner(weight [3]float64) corner {
	amounts := amountsOf(weight)
	return corner{weight, c.see(c.Lab(amounts[:c.paints]))}
}

// divide goes on with what of a piece could come below the bound.
func (c *closer) divide(p *part, depth int) {
	var middle [3]corner
	for e, ends := range edgesOf(p.n) {
		middle[e] = c.corner(halfway(p.corners[ends[0]].weight, p.corners[ends[1]].weight))
	}
	c.divideAt(p, &middle, depth)
}

// divideAt is divide where the middles of the edges are known.
func (c *closer) divideAt(p *part, middle *[3]corner, depth int) {
	off := 0.0
	for e, ends := range edgesOf(p.n) {
		m := &middle[e]
		if length(m.r) < c.enough {
			if c.take(m.weight); c.done() {
				return
			}
		}
		off = max(off, length(minus3(m.r, halfway(p.corners[ends[0]].r, p.corners[ends[1]].r))))
	}
	if p.distance-float64(mostBulge*off) >= c.bound {
		return
	}
	var parts [4]part
	n := 0
	for _, at := range partsOf(p.n) {
		q := &parts[n]
		q.n = p.n
		for k, v := range at {
			if v < p.n {
				q.corners[k] = p.corners[v]
			} else {
				q.corners[k] = middle[v-p.n]
			}
		}
		if q.measure(); q.distance-float64(halfBulge*off) < c.bound {
			n++
		}
	}
	sortParts(parts[:n])
	for i := range parts[:n] {
		switch q := &parts[i]; {
		case c.done():
			return
		case q.distance-float64(halfBulge*off) >= c.bound:
		case off > flatEnough && depth < mostHalved:
			c.divide(q, depth+1)
		default:
			c.descendFrom(q.weight)
		}
	}
}

func sortParts(parts []part) {
	for i := 1; i < len(parts); i++ {
		for k := i; k > 0 && parts[k].distance < parts[k-1].distance; k-- {
			parts[k], parts[k-1] = parts[k-1], parts[k]
		}
	}
}

// take evaluates the mix at some weights and keeps it if it is the nearest.
func (c *closer) take(weight [3]float64) {
	amounts := amountsOf(weight)
	c.keep(c.Take(amounts[:c.paints]))
}

// keep keeps the present mix if it is the nearest.
func (c *closer) keep(distance float64) {
	if distance < c.bound {
		c.Keep()
		c.bound = distance
	}
}

// descendFrom settles from some weights, as long as there is hope to come below the
// bound.
func (c *closer) descendFrom(weight [3]float64) {
	c.take(weight)
	c.keep(c.Settle(c.bound))
}

// settleBest goes on from the nearest mix found to the end.
func (c *closer) settleBest() {
	c.Back()
	c.keep(c.Settle(math.Inf(1)))
}

// Edges and parts of a piece of two or three corners; the middles of its edges
// are numbered on from its corners.
var (
	segmentEdges  = [][2]int{{0, 1}}
	segmentParts  = [][]int{{0, 2}, {2, 1}}
	triangleEdges = [][2]int{{0, 1}, {1, 2}, {2, 0}}
	triangleParts = [][]int{{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}}
)

func edgesOf(corners int) [][2]int {
	if corners == 2 {
		return segmentEdges
	}
	return triangleEdges
}

func partsOf(corners int) [][]int {
	if corners == 2 {
		return segmentParts
	}
	return triangleParts
}

// measure finds where the piece, taken for flat, is nearest to the target.
func (p *part) measure() {
	a, b, c := &p.corners[0], &p.corners[1], &p.corners[2]
	var u, v float64
	if p.n == 2 {
		u = nearestOnLine(a.r, b.r)
	} else {
		u, v = nearestOnTriangle(a.r, b.r, c.r)
	}
	var r [3]float64
	for k := range r {
		r[k] = a.r[k] + float64(u*(b.r[k]-a.r[k])) + float64(v*(c.r[k]-a.r[k]))
		p.weight[k] = max(0, a.weight[k]+float64(u*(b.weight[k]-a.weight[k]))+float64(v*(c.weight[k]-a.weight[k])))
	}
	p.distance = length(r)
}

// nearestOnLine is the point a + u (b-a), u 0 to 1, nearest to the origin.
func nearestOnLine(a, b [3]float64) (u float64) {
	ab := minus3(b, a)
	long := kernel.Dot(ab, ab)
	if long == 0 {
		return 0
	}
	return min(max(-kernel.Dot(ab, a)/long, 0), 1)
}

// nearestOnTriangle is the point a + u (b-a) + v (c-a) of the triangle nearest to
// the origin (C. Ericson, Real-Time Collision Detection, 2005, section 5.1.5).
func nearestOnTriangle(a, b, c [3]float64) (u, v float64) {
	ab, ac := minus3(b, a), minus3(c, a)
	ab1, ac1 := -kernel.Dot(ab, a), -kernel.Dot(ac, a)
	if ab1 <= 0 && ac1 <= 0 {
		return 0, 0
	}
	ab2, ac2 := -kernel.Dot(ab, b), -kernel.Dot(ac, b)
	if ab2 >= 0 && ac2 <= ab2 {
		return 1, 0
	}
	onC := float64(ab1*ac2) - float64(ab2*ac1)
	if onC <= 0 && ab1 >= 0 && ab2 <= 0 {
		return ab1 / (ab1 - ab2), 0
	}
	ab3, ac3 := -kernel.Dot(ab, c), -kernel.Dot(ac, c)
	if ac3 >= 0 && ab3 <= ac3 {
		return 0, 1
	}
	onB := float64(ab3*ac1) - float64(ab1*ac3)
	if onB <= 0 && ac1 >= 0 && ac3 <= 0 {
		return 0, ac1 / (ac1 - ac3)
	}
	onA := float64(ab2*ac3) - float64(ab3*ac2)
	if onA <= 0 && ac2 >= ab2 && ab3 >= ac3 {
		v = (ac2 - ab2) / ((ac2 - ab2) + (ab3 - ac3))
		return 1 - v, v
	}
	whole := 1 / (onA + onB + onC)
	return onB * whole, onC * whole
}

func halfway(a, b [3]float64) (out [3]float64) {
	for k := range out {
		out[k] = (a[k] + b[k]) / 2
	}
	return out
}

// amountsOf are the amounts at some weights.
func amountsOf(w [3]float64) [3]float64 { return [3]float64{w[0] * w[0], w[1] * w[1], w[2] * w[2]} }

func minus3(a, b [3]float64) [3]float64 { return [3]float64{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }

func length(a [3]float64) float64 { return math.Sqrt(kernel.Dot(a, a)) }
