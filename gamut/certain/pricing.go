package certain

import (
	"math"

	"fewtubes/gamut/certain/check"
)

// violated finds the worst fault of the vertex: a negative amount (leave >= 0)
// or a row below zero.
func (x *simplex) violated() (leave int, worst row, found bool) {
	sum, total := 0.0, 0.0
	for c, v := range x.y {
		sum += math.Abs(v)
		total += float64(v * x.p.norm[x.paint[c]])
	}
	least := -tiny * sum
	leave = -1
	for c, v := range x.y {
		if v < least {
			least, leave = v, c
		}
	}
	if leave >= 0 {
		return leave, worst, true
	}
	worst, least = x.worstLimit(total)
	if least < -1e-3 {
		return -1, worst, true
	}
	c, value := x.separate()
	if j, known := x.deepest(total); known < min(least, -x.enough, asDeep*value) {
		return -1, row{check.CutRow, j}, true
	}
	if value < min(least, -x.enough) {
		x.make(&c)
		return -1, row{check.CutRow, len(x.cuts) - 1}, true
	}
	return -1, worst, least < -x.enough/100
}

// asDeep is how much of what a new cut would take off the vertex a known one
// has to, to be taken instead.
const asDeep = 0.7

// deepest is the cut made before that the vertex breaks by most, and by how much.
func (x *simplex) deepest(total float64) (at int, value float64) {
	for j := range x.cuts {
		v := 0.0
		for c, i := range x.paint {
			v += float64(x.y[c] * x.cuts[j].row[i])
		}
		if v /= total; v < value {
			at, value = j, v
		}
	}
	return at, value
}

// worstLimit works out K and S of the vertex and finds the limit it breaks by
// most, weighed by what that does to the colour in CIEDE2000.
func (x *simplex) worstLimit(total float64) (worst row, least float64) {
	p, l := x.p, x.l
	for b := range bands {
		k, s := 0.0, 0.0
		for c, i := range x.paint {
			v := x.y[c] / total
			k += float64(v * p.k[b][i])
			s += float64(v * p.s[b][i])
		}
		x.k[b], x.s[b] = k, s
		test := func(v float64, kind check.Row) {
			if v < least {
				worst, least = row{kind, b}, v
			}
		}
		w := p.tells[b] * x.e.chord[b] / s
		test(w*(k-float64(l.leastQ[b]*s)), check.MostR)
		test(w*(float64(l.mostQ[b]*s)-k), check.LeastR)
		w = 0.3 * p.tells[b] * (x.e.light[b] - x.e.dark[b])
		test(w*(s/l.leastS[b]-1), check.LeastS)
		test(w*(1-s/l.mostS[b]), check.MostS)
	}
	return worst, least
}

// separate finds the face that the relaxed colours of the vertex miss by most,
// and the cut that says so.
func (x *simplex) separate() (c cut, value float64) {
	p := x.p
	var high, low [bands]float64
	var over, under [bands]check.Plane
	for b := range bands {
		high[b], over[b] = x.e.above(b, x.k[b], x.s[b])
		low[b], under[b] = x.e.below(p, b, x.k[b], x.s[b])
	}
	value = math.Inf(1)
	for j := range p.weight {
		v := p.height[j]
		for b, w := range &p.weight[j] {
			if w > 0 {
				v -= float64(w * low[b])
			} else {
				v -= float64(w * high[b])
			}
		}
		if v < value {
			value, c.Face = v, j
		}
	}
	c.Planes = under
	for b, w := range &p.weight[c.Face] {
		if w < 0 {
			c.Planes[b] = over[b]
		}
	}
	return c, value
}

// make keeps a cut. A tangent lies under R wherever it touches, so the place is
// put in few digits.
func (x *simplex) make(c *cut) {
	for b := range c.Planes {
		if t := &c.Planes[b].Touch; *t != 0 {
			*t = min(max(brief(*t, 3, math.RoundToEven), 1e-9), 0.9999)
		}
	}
	x.p.fill(&x.e, c)
	x.cuts = append(x.cuts, *c)
}
