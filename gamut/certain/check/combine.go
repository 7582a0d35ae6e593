package check

import (
	"fmt"
	"math"

	"fewtubes/gamut/colour"
)

func nearly(m *made) *form[interval] { return m.about }

// exactly works a cut out in rationals. Those of few cuts are kept for the next time.
func (v *verifier) exactly(m *made) *form[rational] {
	if m.exact != nil {
		return m.exact
	}
	f := v.exact.cut(&m.in, m.Cut, &v.signs[m.Face])
	if v.kept < mostKept {
		v.kept += words(f)
		m.exact = f
	}
	return f
}

// mostKept is about how many words of rationals are kept.
const mostKept = 1 << 19

// words are those that a form takes.
func words(f *form[rational]) Work {
	sum := f.n.words()
	for b := range f.k {
		sum += f.k[b].words() + f.s[b].words()
	}
	return sum
}

// less is a form less the sum of multiplier times row.
func less[T number[T]](f *form[T], at *cell, terms []Term, cut func(*made) *form[T]) *form[T] {
	for _, t := range terms {
		times := f.n.of(-t.Times)
		if t.Row == CutRow {
			f.addForm(times, cut(&at.cuts[t.Index]))
		} else {
			f.addLimit(times, t.Row, t.Index, at.get(t.Row, t.Index))
		}
	}
	return f
}

// wanted is what the terms of a step must not exceed: the row of a new limit,
// nothing for an empty cell.
func wanted[T number[T]](s *Step, one T) *form[T] {
	f := newForm(one)
	if s.Action == Move {
		f.addLimit(f.n.of(1), s.Limit, s.Band, s.Value)
	}
	return f
}

// lowest is the least sign, over the paints, of what a step wants proved less
// the rows it is proved by, and a paint that has it. Rationals decide; intervals
// only spare them where all signs are surely above 0.
func (v *verifier) lowest(at *cell, s *Step) (paint, sign int) {
	v.meter.spend(v.inIntervals(s))
	if surelyAbove(less(wanted(s, v.about.number), at, s.Terms, nearly), v.Paints, v.Norms) {
		return 0, 1
	}
	f := less(wanted(s, v.exact.number), at, s.Terms, v.exactly)
	sign = 1
	for i := range v.Paints {
		if now := on(f, &v.Paints[i], v.Norms[i]).Sign(); now < sign {
			paint, sign = i, now
		}
	}
	return paint, sign
}

// inIntervals is what it takes to look at a step that way.
func (v *verifier) inIntervals(s *Step) Work {
	w := perLimitTerm + Work(len(v.Paints))*perPaint
	for i := range s.Terms {
		if s.Terms[i].Row == CutRow {
			w += perCutTerm
		} else {
			w += perLimitTerm
		}
	}
	return w
}

// known reports terms that name no row of the cell.
func (v *verifier) known(at *cell, terms []Term) error {
	for _, t := range terms {
		most := colour.Bands
		if t.Row == CutRow {
			most = len(at.cuts)
		}
		switch {
		case t.Row < MostR || t.Row > CutRow || t.Index < 0 || t.Index >= most:
			return fmt.Errorf("there is no row %d of kind %d", t.Index, t.Row)
		case t.Row != CutRow && math.IsInf(at.get(t.Row, t.Index), 0):
			return fmt.Errorf("band %d: a limit that was never set", t.Index)
		case !(t.Times >= 0 && t.Times <= math.MaxFloat64):
			return fmt.Errorf("multiplier %g", t.Times)
		}
	}
	return nil
}
