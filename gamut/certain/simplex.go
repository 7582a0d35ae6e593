package certain

import (
	"math"

	"fewtubes/gamut/certain/check"
)

// row names a row of the cone: a limit with its band, or a cut.
type row struct {
	kind  check.Row
	index int
}

// simplex maximises f.c / g.c over the mixes of a cell by the dual simplex
// method (Lemke 1954): it starts at the best single paint and takes in violated
// rows one by one, so that every basis proves a bound. A vertex holds few
// paints, so the basis is small and is factored afresh at each step: nothing
// drifts. Cuts are made where a vertex asks for them.
type simplex struct {
	p      *cone
	l      *limits  // of the cell, as they stand
	e      envelope // of the cell when the cuts were begun
	cuts   []cut
	pivots int
	enough float64 // a face missed by less, in CIEDE2000, is let be

	paint  []int          // basic paints
	rows   []row          // active rows, one fewer
	lambda []float64      // their multipliers, >= 0
	theta  float64        // the bound
	y      []float64      // amounts of the basic paints
	k, s   [bands]float64 // of the vertex, per norm

	lu           factors
	price, slide []float64
}

type outcome int

const (
	optimal outcome = iota
	empty           // no mix in the cell: lambda proves it
	stopped         // the bound holds but is not the best
)

// begin drops the cuts and takes the limits of a cell.
func (x *simplex) begin(l *limits) {
	x.l, x.e, x.cuts = l, x.p.envelope(l), x.cuts[:0]
}

// at is the coefficient of paint i in a row.
func (x *simplex) at(r row, i int) float64 {
	p, l, b := x.p, x.l, r.index
	switch r.kind {
	case check.MostR:
		return p.k[b][i] - float64(l.leastQ[b]*p.s[b][i])
	case check.LeastR:
		return float64(l.mostQ[b]*p.s[b][i]) - p.k[b][i]
	case check.LeastS:
		return p.s[b][i] - float64(l.leastS[b]*p.norm[i])
	case check.MostS:
		return float64(l.mostS[b]*p.norm[i]) - p.s[b][i]
	}
	return x.cuts[b].row[i]
}

// size bounds the terms that at adds up.
func (x *simplex) size(r row, i int) float64 {
	p, l, b := x.p, x.l, r.index
	switch r.kind {
	case check.MostR:
		return p.k[b][i] + float64(l.leastQ[b]*p.s[b][i])
	case check.LeastR:
		return float64(l.mostQ[b]*p.s[b][i]) + p.k[b][i]
	case check.LeastS:
		return p.s[b][i] + float64(l.leastS[b]*p.norm[i])
	case check.MostS:
		return float64(l.mostS[b]*p.norm[i]) + p.s[b][i]
	}
	return math.Abs(x.cuts[b].row[i])
}

const (
	maxPivots = 150
	tiny      = 1e-9
)

// maximise bounds f.c over the mixes of the cell with g.c = 1, g > 0.
func (x *simplex) maximise(f, g []float64) outcome {
	n := x.p.n
	x.paint, x.rows, x.lambda = x.paint[:0], x.rows[:0], x.lambda[:0]
	best := 0
	for i := range n {
		if f[i]/g[i] > f[best]/g[best] {
			best = i
		}
	}
	x.paint = append(x.paint, best)
	for range maxPivots {
		x.pivots++
		if !x.factor(f, g) {
			break
		}
		leave, r, found := x.violated()
		if !found {
			return optimal
		}
		if !x.pivot(f, g, leave, r) {
			return empty
		}
	}
	// a basis without multipliers: the last step is undone by giving it none
	x.lambda = grow(x.lambda, len(x.rows))
	clear(x.lambda)
	return stopped
}

// factor solves for the vertex and the multipliers of the basis.
func (x *simplex) factor(f, g []float64) bool {
	k := len(x.paint)
	m := x.lu.room(k)
	for c, i := range x.paint {
		m[c] = g[i]
		for r, w := range x.rows {
			m[(r+1)*k+c] = x.at(w, i)
		}
	}
	if !x.lu.factor() {
		return false
	}
	x.y = grow(x.y, k)
	clear(x.y)
	x.y[0] = 1
	x.lu.solve(x.y)
	t := x.lu.vector()
	for c, i := range x.paint {
		t[c] = f[i]
	}
	x.lu.solveTransposed(t)
	x.theta = t[0]
	x.lambda = grow(x.lambda, k-1)
	for r := range x.lambda {
		x.lambda[r] = max(0, -t[r+1])
	}
	return true
}

// pivot mends one fault; false means that the cone is empty, and lambda (with
// the row appended) then proves it.
func (x *simplex) pivot(f, g []float64, leave int, r row) bool {
	k, n := len(x.paint), x.p.n
	v := x.lu.vector()
	clear(v)
	if leave >= 0 {
		v[leave] = 1
	} else {
		for c, i := range x.paint {
			v[c] = x.at(r, i)
		}
	}
	x.lu.solveTransposed(v)
	// theta += t v0, lambda_r -= t v_{r+1}, price_i += t slide_i
	best, entering, dropped := math.Inf(1), -1, -1
	for j := range x.rows {
		if d := v[j+1]; d > tiny {
			if t := x.lambda[j] / d; t < best {
				best, dropped = t, j
			}
		}
	}
	x.price, x.slide = grow(x.price, n), grow(x.slide, n)
	for i := range n {
		x.price[i] = float64(x.theta*g[i]) - f[i]
		x.slide[i] = v[0] * g[i]
	}
	for j, w := range x.rows {
		for i := range n {
			a := x.at(w, i)
			x.price[i] -= float64(x.lambda[j] * a)
			x.slide[i] += float64(v[j+1] * a)
		}
	}
	for i := range n {
		if leave < 0 {
			x.slide[i] -= x.at(r, i)
		}
		if d := x.slide[i]; d < -tiny && !x.basic(i) {
			if t := max(0, x.price[i]) / -d; t < best {
				best, entering, dropped = t, i, -1
			}
		}
	}
	if math.IsInf(best, 1) {
		x.lambda = x.lambda[:0]
		for j := 1; j < k; j++ {
			x.lambda = append(x.lambda, max(0, -v[j]))
		}
		if leave < 0 {
			x.rows, x.lambda = append(x.rows, r), append(x.lambda, 1)
		}
		return false
	}
	switch {
	case leave < 0 && entering >= 0:
		x.paint, x.rows = append(x.paint, entering), append(x.rows, r)
	case leave < 0:
		x.rows[dropped] = r
	case entering >= 0:
		x.paint[leave] = entering
	default:
		x.paint = append(x.paint[:leave], x.paint[leave+1:]...)
		x.rows = append(x.rows[:dropped], x.rows[dropped+1:]...)
	}
	return true
}

func (x *simplex) basic(i int) bool {
	for _, j := range x.paint {
		if i == j {
			return true
		}
	}
	return false
}
