package scene

import (
	"math"
	"slices"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// Problem is the scene put to the solver over the tubes of a catalogue. The caps
// on the answer are left for the caller.
func (s *Scene) Problem(stock *catalog.Catalogue) solver.Problem {
	light, err := colour.ParseLight(s.Light)
	if err != nil {
		light = colour.D65() // a checked scene does not come here
	}
	l := &s.Limits
	p := solver.Problem{
		Tubes:        stock.Tubes(),
		PaintsPerMix: l.PaintsPerMix,
		Surface:      stock.Surface(s.Surface),
		Light:        light,
		Prefer:       l.Prefer,
		Limits: solver.Limits{
			MaxTubes: l.MaxTubes, Avoid: l.Avoid, Keep: idsOf(stock, l.Keep), Never: idsOf(stock, l.Never),
			Only: idsOf(stock, l.Only), Own: idsOf(stock, l.Own),
		},
	}
	for _, group := range l.AtMostOne {
		p.Limits.AtMostOne = append(p.Limits.AtMostOne, idsOf(stock, group))
	}
	if l.ByHand {
		p.ByHand = solver.Straight
	}
	if l.Budget != nil {
		p.Limits.Budget = solver.Spend(int(math.Round(*l.Budget * 100)))
	}
	for i := range s.Targets {
		t := &s.Targets[i]
		tolerance := t.Tolerance
		if tolerance == 0 {
			tolerance = s.Tolerance
		}
		p.Targets = append(p.Targets, solver.Target{Name: t.Name, Lab: t.Lab, Plane: t.Plane, Area: t.Area, Tolerance: tolerance})
	}
	return p
}

// idsOf are the ids of the tubes named; what names none, and those
// behind it, are left for the solver to refuse.
func idsOf(stock *catalog.Catalogue, names []string) []string {
	out := slices.Clone(names)
	for i, name := range names {
		t, err := stock.Get(name)
		if err != nil {
			break
		}
		out[i] = t.ID
	}
	return out
}
