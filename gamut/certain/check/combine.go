package check

import (
	"fmt"
	"math"

	"fewtubes/gamut/colour"
)

func nearly(m *made) *form[interval] { return m.about }

func (v *verifier) exactly(m *made) *form[rational] {
	if m.exact == nil {
		m.exact = v.exact.cut(&m.in, m.Cut, &v.signs[m.Face])
	}
	return m.exact
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
func wanted[T number[T]](s *Step) *form[T] {
	f := newForm[T]()
	if s.Action == Move {
		f.addLimit(f.n.of(1), s.Limit, s.Band, s.Value)
	}
	return f
}

// lowest is the least sign, over the paints, of what a step wants proved less
// the rows it is proved by, and a paint that has it. Rationals decide; intervals
// only spare them where all signs are surely above 0.
func (v *verifier) lowest(at *cell, s *Step) (paint, sign int) {
	if surelyAbove(less(wanted[interval](s), at, s.Terms, nearly), v.Paints, v.Norms) {
		return 0, 1
	}
	f := less(wanted[rational](s), at, s.Terms, v.exactly)
	sign = 1
	for i := range v.Paints {
		if now := on(f, &v.Paints[i], v.Norms[i]).Sign(); now < sign {
			paint, sign = i, now
		}
	}
	return paint, sign
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
