package check

import (
	"fmt"
	"math"

	"fewtubes/gamut/colour"
)

func nearly(m *made) []interval { return m.about }

func (v *verifier) exactly(m *made) []rational {
	if m.exact == nil {
		m.exact = v.exact.cut(&m.in, m.Cut, &v.signs[m.Face])
	}
	return m.exact
}

// combine is the sum of multiplier times row.
func combine[T number[T]](w rows[T], at *cell, terms []Term, cut func(*made) []T) []T {
	sum := make([]T, len(w.Paints))
	for i := range sum {
		sum[i] = w.of(0)
	}
	for _, t := range terms {
		var r []T
		if t.Row == CutRow {
			r = cut(&at.cuts[t.Index])
		} else {
			r = w.limit(t.Row, t.Index, at.get(t.Row, t.Index))
		}
		m := w.of(t.Times)
		for i := range sum {
			sum[i] = sum[i].plus(m.times(r[i]))
		}
	}
	return sum
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
