package certain

import (
	"math"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

const bands = colour.Bands

// cone is the set of all mixes, amounts c >= 0 of n paints, seen by the faces
// of a tolerance region. Paints are scaled by powers of two to like strength.
type cone struct {
	optics
	n      int
	k, s   [bands][]float64
	norm   []float64        // the unit of amount: norm.c = 1
	unit   []float64        // norms of the paints unscaled
	weight [][bands]float64 // of each face: R of a band counts so much
	terms  [][bands]float64 // sizes of what weight was summed from
	height []float64
	tells  [bands]float64 // typical size of weight
}

func newCone(paints []film.Paint, surface film.Surface, light *colour.Light, faces []check.Face) *cone {
	p := &cone{optics: optics{surface}, n: len(paints)}
	for _, f := range faces {
		var w, size [bands]float64
		for b := range w {
			for k := range 3 {
				w[b] += float64(f.Normal[k] * light.Weights[k][b])
				size[b] += math.Abs(f.Normal[k] * light.Weights[k][b])
			}
			p.tells[b] += w[b] * w[b] / float64(len(faces))
		}
		p.weight, p.terms, p.height = append(p.weight, w), append(p.terms, size), append(p.height, f.Height)
	}
	total := 0.0
	for b := range p.tells {
		p.tells[b] = math.Sqrt(p.tells[b])
		total += p.tells[b]
	}
	for i := range paints {
		mean := 0.0
		for b := range bands {
			mean += p.tells[b] * paints[i].S[b] / total
		}
		scale := math.Ldexp(1, -math.Ilogb(mean))
		p.unit, p.norm = append(p.unit, mean), append(p.norm, mean*scale)
		for b := range bands {
			p.k[b], p.s[b] = append(p.k[b], paints[i].K[b]*scale), append(p.s[b], paints[i].S[b]*scale)
		}
	}
	return p
}

// limits of a cell, band by band: internal reflectance r, the ratio q = K/S it
// stands for, and the scattering s against the norm.
type limits struct{ leastR, mostR, leastQ, mostQ, leastS, mostS [bands]float64 }

// set moves one limit.
func (l *limits) set(limit check.Row, b int, x float64) {
	switch limit {
	case check.MostR:
		l.mostR[b], l.leastQ[b] = x, film.Ratio(x)
	case check.LeastR:
		l.leastR[b], l.mostQ[b] = x, film.Ratio(x)
	case check.MostS:
		l.mostS[b] = x
	case check.LeastS:
		l.leastS[b] = x
	}
}

// rowSlop bounds the rounding of a row against the sizes of its terms: far more
// than the few hundred operations behind it can lose.
const rowSlop = 1e-12

// whole is the cell of all mixes, with the moves that lead there.
func (p *cone) whole() (l limits, moves []check.Step) {
	for b := range bands {
		least, most := math.Inf(1), 0.0
		lightest, darkest := 0.0, 1.0
		for i := range p.n {
			s := p.s[b][i] / p.norm[i]
			least, most = min(least, s), max(most, s)
			r := film.Infinite(p.k[b][i] / p.s[b][i])
			lightest, darkest = max(lightest, r), min(darkest, r)
		}
		for _, m := range []check.Step{
			{Limit: check.MostR, Value: min(lightest*(1+rowSlop), 1-1e-15)}, {Limit: check.LeastR, Value: darkest * (1 - rowSlop)},
			{Limit: check.MostS, Value: most * (1 + rowSlop)}, {Limit: check.LeastS, Value: least * (1 - rowSlop)},
		} {
			m.Action, m.Band = check.Move, b
			l.set(m.Limit, b, m.Value)
			moves = append(moves, m)
		}
	}
	return l, moves
}

// envelope holds what bounds R over a cell: its values at the ends and the
// chord between them.
type envelope struct {
	limits
	light, dark, chord [bands]float64 // R at leastQ, at mostQ; fall of the chord
}

func (p *cone) envelope(l *limits) (e envelope) {
	e.limits = *l
	for b := range bands {
		e.light[b], e.dark[b] = p.Seen(l.mostR[b]), p.Seen(l.leastR[b])
		e.chord[b] = p.fall(l.leastR[b], l.mostR[b])
	}
	return e
}

// above is the tighter of the two chord planes over R of a mix with absorption
// k and scattering s per norm.
func (e *envelope) above(b int, k, s float64) (float64, check.Plane) {
	low := e.light[b] - e.chord[b]*(k-float64(e.leastQ[b]*s))/e.mostS[b]
	high := e.dark[b] + e.chord[b]*(float64(e.mostQ[b]*s)-k)/e.leastS[b]
	if low <= high {
		return low, check.Plane{}
	}
	return high, check.Plane{High: true}
}

// below is the tangent plane under R at the largest q that the envelope of k/s
// allows.
func (e *envelope) below(p *cone, b int, k, s float64) (float64, check.Plane) {
	low := e.leastQ[b] + (k-float64(e.leastQ[b]*s))/e.leastS[b]
	high := e.mostQ[b] - (float64(e.mostQ[b]*s)-k)/e.mostS[b]
	r := film.Infinite(max(0, min(low, high)))
	r = min(max(r, e.leastR[b]), e.mostR[b])
	return p.Seen(r), check.Plane{High: high < low, Touch: r}
}

// cut is a face with every reflectance replaced by a plane: a row that is >= 0
// for the mixes of a cell whose colour is inside the face.
type cut struct {
	check.Cut
	row []float64
}

// fill works out the row, rounded up.
func (p *cone) fill(e *envelope, c *cut) {
	c.row = make([]float64, p.n)
	size := make([]float64, p.n)
	constant := p.height[c.Face]
	sizes := math.Abs(constant)
	for b := range bands {
		w, wide := p.weight[c.Face][b], p.terms[c.Face][b]
		value, fall, hinge := p.plane(e, b, w < 0, c.Planes[b])
		constant -= float64(w * value)
		sizes += float64(wide * (1 + float64(fall*hinge)))
		for i, k := range p.k[b] {
			s := p.s[b][i]
			c.row[i] += float64(w * fall * (k - float64(hinge*s)))
			size[i] += float64(wide * fall * (k + float64(hinge*s)))
		}
	}
	for i := range c.row {
		c.row[i] += float64(constant*p.norm[i]) + float64(rowSlop*(size[i]+float64(sizes*p.norm[i])))
	}
}

// plane is value norm - fall (K - hinge S).
func (p *cone) plane(e *envelope, b int, over bool, t check.Plane) (value, fall, hinge float64) {
	hinge, value = e.leastQ[b], e.light[b]
	if t.High {
		hinge, value = e.mostQ[b], e.dark[b]
	}
	if over {
		fall = e.chord[b]
	} else {
		fall = p.fall(t.Touch, t.Touch)
		value = p.Seen(t.Touch) - float64(fall*(hinge-film.Ratio(t.Touch)))
	}
	if over != t.High {
		return value, fall / e.mostS[b], hinge
	}
	return value, fall / e.leastS[b], hinge
}
