package scene

import (
	"math"

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
			MaxTubes: l.MaxTubes, Avoid: l.Avoid, Keep: l.Keep, Never: l.Never,
			Only: l.Only, Own: l.Own, AtMostOne: l.AtMostOne,
		},
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
