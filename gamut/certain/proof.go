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
		best = max(best, (f[i]+sum+rowSlop*(math.Abs(f[i])+size))/g[i])
	}
	return best + rowSlop*math.Abs(best)
}

// void reports whether the multipliers surely prove that no mix is in the cell.
func (x *simplex) void() bool {
	for i := range x.p.n {
		if sum, size := x.combined(i); !(sum+rowSlop*size < 0) {
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
			sum += v * x.at(w, i)
			size += v * x.size(w, i)
		}
	}
	return sum, size
}

// multipliers are those of the last answer for rows as package check writes
// them, times a factor: it multiplies a row K - qS by 2r.
func (x *simplex) multipliers(factor float64) []check.Term {
	var out []check.Term
	for j, w := range x.rows {
		v := factor * x.lambda[j]
		switch w.kind {
		case check.MostR:
			v /= 2 * x.l.mostR[w.index]
		case check.LeastR:
			v /= 2 * x.l.leastR[w.index]
		}
		if v > 0 {
			out = append(out, check.Term{Row: w.kind, Index: w.index, Times: v})
		}
	}
	return out
}

// trail keeps the steps of a proof in the order a checker wants them.
type trail struct {
	steps []check.Step
	round []check.Step // since the cuts were begun: cuts come before them
	made  int          // cuts written in this cell
}

func (t *trail) cell() { t.made = 0 }

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
