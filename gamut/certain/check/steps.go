package check

import (
	"errors"
	"fmt"
	"math"

	"fewtubes/gamut/colour"
)

// limits of a cell, band by band; 0..1 for r, 0..infinity for S against the norm.
type limits struct{ leastR, mostR, leastS, mostS [colour.Bands]float64 }

// made is a cut with the cell it was made in.
type made struct {
	*Cut
	in    limits
	about *form[interval]
	exact *form[rational] // when it was asked for
}

// cell is a cell still to be emptied, with the cuts made in it.
type cell struct {
	limits
	cuts []made
}

type verifier struct {
	*Certificate
	meter *meter
	about *rows[interval]
	exact *rows[rational]
	signs [][colour.Bands]int // of the weights of each face
	open  []cell              // the last is being worked on, and the only one with cuts
	kept  Work                // words of exact cuts
	taken int                 // steps
}

func newVerifier(c *Certificate, light *colour.Light, m *meter) *verifier {
	var all limits
	for b := range colour.Bands {
		all.mostR[b], all.mostS[b] = 1, math.Inf(1)
	}
	v := &verifier{
		Certificate: c, meter: m, open: []cell{{limits: all}},
		about: rowsIn(c, light, interval{}), exact: rowsIn(c, light, rational{meter: m}),
	}
	m.spend(Work(len(c.Faces)) * perCut)
	v.signs = make([][colour.Bands]int, len(c.Faces))
	for j := range v.signs {
		for b, about := range v.about.weight(j) {
			switch {
			case about.lo > 0:
				v.signs[j][b] = 1
			case about.hi < 0:
				v.signs[j][b] = -1
			default:
				v.signs[j][b] = v.exact.weight(j)[b].Sign()
			}
		}
	}
	return v
}

func (v *verifier) step(s *Step) error {
	if len(v.open) == 0 {
		return errors.New("no cell is left")
	}
	if s.Action != Empty && s.Action != MakeCut && (s.Band < 0 || s.Band >= colour.Bands) {
		return fmt.Errorf("band %d", s.Band)
	}
	at := &v.open[len(v.open)-1]
	switch s.Action {
	case Move:
		return v.move(at, s)
	case MakeCut:
		return v.cut(at, s.Cut)
	case Split:
		return v.split(at, s)
	case Empty:
		return v.empty(at, s)
	}
	return errors.New("not a known step")
}

// move proves a new limit: its row less the multiplied rows has no negative
// coefficient.
func (v *verifier) move(at *cell, s *Step) error {
	if err := inRange(s.Limit, s.Value); err != nil {
		return err
	}
	if err := v.known(at, s.Terms); err != nil {
		return err
	}
	if paint, sign := v.lowest(at, s); sign < 0 {
		return fmt.Errorf("paint %d breaks the new limit", paint)
	}
	return at.set(s.Limit, s.Band, s.Value)
}

func inRange(limit Row, x float64) error {
	switch limit {
	case MostR, LeastR:
		if !(x > 0 && x < 1) {
			return fmt.Errorf("reflectance %g", x)
		}
	case MostS, LeastS:
		if !finite(true, x) {
			return fmt.Errorf("scattering %g", x)
		}
	default:
		return errors.New("not a limit")
	}
	return nil
}

func (l *limits) get(limit Row, b int) float64 {
	return [...]float64{l.mostR[b], l.leastR[b], l.mostS[b], l.leastS[b]}[limit]
}

func (l *limits) set(limit Row, b int, x float64) error {
	switch limit {
	case MostR:
		l.mostR[b] = x
	case LeastR:
		l.leastR[b] = x
	case MostS:
		l.mostS[b] = x
	case LeastS:
		l.leastS[b] = x
	default:
		return errors.New("not a limit")
	}
	return nil
}

// split opens the two cells that share a limit; the first is worked on first.
func (v *verifier) split(at *cell, s *Step) error {
	if err := inRange(s.Limit, s.Value); err != nil {
		return err
	}
	first, second := at.limits, at.limits
	if len(v.open) == v.meter.open {
		return fmt.Errorf("over %d cells are open at a time", v.meter.open)
	}
	v.meter.spend(perSplit)
	other := LeastR
	switch s.Limit {
	case MostR:
	case MostS:
		other = LeastS
	default:
		return errors.New("a split names r< or s<")
	}
	if err := errors.Join(first.set(s.Limit, s.Band, s.Value), second.set(other, s.Band, s.Value)); err != nil {
		return err
	}
	*at, v.kept = cell{limits: second}, 0
	v.open = append(v.open, cell{limits: first})
	return nil
}

// empty proves that no amounts fit the cell.
func (v *verifier) empty(at *cell, s *Step) error {
	if err := v.known(at, s.Terms); err != nil {
		return err
	}
	if paint, sign := v.lowest(at, s); sign <= 0 {
		return fmt.Errorf("paint %d may be in the cell", paint)
	}
	v.open[len(v.open)-1].cuts, v.kept = nil, 0
	v.open = v.open[:len(v.open)-1]
	return nil
}

// cut keeps a cut of the cell as it stands.
func (v *verifier) cut(at *cell, c *Cut) error {
	if c == nil || c.Face < 0 || c.Face >= len(v.Faces) {
		return errors.New("a cut without a face")
	}
	for b, sign := range v.signs[c.Face] {
		if sign == 0 {
			continue
		}
		if err := usable(&at.limits, b, sign < 0, c.Planes[b]); err != nil {
			return err
		}
	}
	if len(at.cuts) == v.meter.cuts {
		return fmt.Errorf("a cell has over %d cuts", v.meter.cuts)
	}
	v.meter.spend(perCut)
	at.cuts = append(at.cuts, made{Cut: c, in: at.limits, about: v.about.cut(&at.limits, c, &v.signs[c.Face])})
	return nil
}
