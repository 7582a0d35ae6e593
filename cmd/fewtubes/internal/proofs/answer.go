package proofs

import (
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut/certain/check"
	"fewtubes/solver"
)

// Certificates puts certificates to what they prove.
func (s *Statement) Certificates(made []solver.Proof) Certificates {
	out := Certificates{Needs: map[int]*check.Certificate{}, Missed: map[int]*check.Certificate{}}
	for _, p := range made {
		at := s.ColourNamed(p.Target)
		if len(p.Without) == 0 {
			out.Missed[at] = p.Certificate
			continue
		}
		for i, n := range s.Needs {
			if n.Colour == at && slices.Equal(s.IDs(n.OneOf), p.Without) {
				out.Needs[i] = p.Certificate
			}
		}
	}
	return out
}

// Stated is a statement about a problem and some tubes.
func Stated(title string, p *solver.Problem, tubes []solver.Priced) *Statement {
	s := &Statement{Title: title, Light: p.Light.Name, Surface: p.Surface}
	for _, priced := range tubes {
		at := slices.IndexFunc(p.Tubes, func(t catalog.Tube) bool { return t.ID == priced.ID })
		tube := Tube{ID: priced.ID, Price: priced.Price, Paint: p.Tubes[at].Paint}
		if priced.Buy {
			tube.Buy = 1
		}
		s.Tubes = append(s.Tubes, tube)
	}
	for _, t := range p.Targets {
		s.Colours = append(s.Colours, Colour{Name: t.Name, Lab: t.Lab, Tolerance: t.Tolerance})
	}
	return s
}

// outcomes puts in what becomes of each colour.
func outcomes(s *Statement, palette *solver.Palette, missed []solver.Miss) {
	for i := range s.Colours {
		c := &s.Colours[i]
		at := slices.IndexFunc(missed, func(m solver.Miss) bool { return m.Target == c.Name })
		switch o := &palette.Targets[i]; {
		case at >= 0 && missed[at].Proof == solver.Certified:
			c.State = Missed
		case at >= 0:
			c.State = Searched
		case o.Reached:
			c.State = Reached
			for _, share := range o.Shares {
				c.Mix = append(c.Mix, Share{Tube: s.Tube(share.ID), Amount: share.Fraction})
			}
		}
	}
}

// OfAnswer is what an answer that chose states: its minimum, where it has one that was
// not cut short and a colour that can be reached.
func OfAnswer(title string, p *solver.Problem, session *solver.Session, a *solver.Answer) (*Statement, error) {
	tubes, err := session.Allowed(&a.Limits)
	if err != nil {
		return nil, err
	}
	s := Stated(title, p, tubes)
	outcomes(s, &a.Palettes[0], a.Unreachable)
	if len(a.Conflict) > 0 || a.Minimum.Proof == solver.Interrupted || len(a.Unreachable) == len(s.Colours) {
		return s, nil
	}
	s.Palette = s.Places(a.Palettes[0].Tubes)
	s.Bound(&a.Limits)
	if a.ToBuy != nil {
		minimise(s, "bought", a.ToBuy.Tubes, a.NeedsToBuy)
	}
	minimise(s, "tubes", a.Minimum.Tubes, a.Needs)
	return s, nil
}

// minimise puts in what is least and the needs that prove it.
func minimise(s *Statement, what string, least int, needs []solver.Need) {
	for _, n := range needs {
		s.Needs = append(s.Needs, Need{For: len(s.Minima), Colour: s.ColourNamed(n.Target), OneOf: s.Places(n.OneOf), Proven: n.Proof == solver.Certified})
	}
	s.Minima = append(s.Minima, Minimum{What: what, Least: least})
}

// Bound puts limits in.
func (s *Statement) Bound(l *solver.Limits) {
	s.Limits.Most, s.Limits.Keep = l.MaxTubes, s.Places(l.Keep)
	s.Limits.Budget, s.Limits.Budgeted = l.Budget.Most()
	for _, group := range l.AtMostOne {
		if places := s.Places(group); len(places) > 1 {
			s.Limits.Groups = append(s.Limits.Groups, places)
		}
	}
}

// OfPalette states what a palette as it stands reaches and misses.
func OfPalette(title string, p *solver.Problem, palette *solver.Palette, missed []solver.Miss) *Statement {
	s := Stated(title, p, Freely(palette.Tubes))
	outcomes(s, palette, missed)
	return s
}

// Freely are tubes as they stand, whatever they cost.
func Freely(ids []string) (out []solver.Priced) {
	for _, id := range ids {
		out = append(out, solver.Priced{ID: id})
	}
	return out
}
