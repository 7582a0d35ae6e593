package certain

import (
	"math"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/film"
)

// safe is the bound on f.c / g.c that the multipliers prove, rounded up.
func (x *simplex) safe(f, g []float64) float64 {
	best := math.Inf(-1)
	for i := range x.p.n {
		sum, size := x.combined(i)
		best = max(best, (f[i]+sum+float64(rowSlop*(math.Abs(f[i])+size)))/g[i])
	}
	return best + float64(rowSlop*math.Abs(best))
}

// void gives multipliers that surely prove that no mix is in the cell, if those
// at hand do, in few digits where these do as well.
func (x *simplex) void() (terms []check.Term, ok bool) {
	exact := append([]float64(nil), x.lambda...)
	for _, digits := range []int{4, 17} {
		copy(x.lambda, exact)
		terms = x.terms(1, digits)
		if x.negative() {
			return terms, true
		}
	}
	return nil, false
}

func (x *simplex) negative() bool {
	for i := range x.p.n {
		if sum, size := x.combined(i); !(sum+float64(rowSlop*size) < 0) {
			return false
		}
	}
	return true
}

// combined is the coefficient of paint i in the sum of multiplier times row,
// and the size of what was summed.
func (x *simplex) combined(i int) (sum, size float64) {
	for r, w := range x.rows {
		if v := x.lambda[r]; v != 0 {
			sum += float64(v * x.at(w, i))
			size += float64(v * x.size(w, i))
		}
	}
	return sum, size
}

// terms are the multipliers at hand for rows as package check writes them, times
// a factor: it multiplies a row K - qS by 2r. They are rounded to so many
// digits, and so is what is at hand.
func (x *simplex) terms(factor float64, digits int) []check.Term {
	var out []check.Term
	for j, w := range x.rows {
		f := factor
		switch w.kind {
		case check.MostR:
			f /= 2 * x.l.mostR[w.index]
		case check.LeastR:
			f /= 2 * x.l.leastR[w.index]
		}
		v := f * x.lambda[j]
		if !(v > 1e-200) {
			x.lambda[j] = 0
			continue
		}
		if digits < 17 {
			v = brief(v, digits, math.RoundToEven)
			x.lambda[j] = v / f
		}
		out = append(out, check.Term{Row: w.kind, Index: w.index, Times: v})
	}
	return out
}

// trail keeps the steps of a proof in the order a checker wants them.
type trail struct {
	steps []check.Step
	round []check.Step // since the cuts were begun: cuts come before them
	made  int          // cuts written in this cell
}

// flush writes the cuts that the round used, then its steps.
func (t *trail) flush(cuts []cut) {
	number := make([]int, len(cuts))
	for j := range number {
		number[j] = -1
	}
	for s := range t.round {
		for k := range t.round[s].Terms {
			term := &t.round[s].Terms[k]
			if term.Row != check.CutRow {
				continue
			}
			if number[term.Index] < 0 {
				number[term.Index] = t.made
				t.made++
				c := cuts[term.Index].Cut
				t.steps = append(t.steps, check.Step{Action: check.MakeCut, Cut: &c})
			}
			term.Index = number[term.Index]
		}
	}
	t.steps = append(t.steps, t.round...)
	t.round = t.round[:0]
}

// tighter is the limit that a safe bound v on the objective of kind stands for,
// moved outward by more than its own rounding.
func tighter(kind check.Row, v float64) float64 {
	switch kind {
	case check.LeastR: // q <= v
		return film.Infinite(v) * (1 - 2*rowSlop)
	case check.MostR: // -q <= v
		return min(film.Infinite(max(0, -v))*(1+2*rowSlop), 1-1e-15)
	case check.LeastS: // -s <= v
		return -v * (1 - 2*rowSlop)
	}
	return v * (1 + 2*rowSlop)
}
