package solver

import (
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
)

// worthATube is the CIEDE2000 a single tube must bring a missed target nearer
// to be named: less is hard to see (common practice, no source).
const worthATube = 0.1

// miss says how a palette misses a target, and which one tube of the helpers,
// added to it, would bring the target nearest.
func (s *Session) miss(t int, palette, helpers gamut.Set) Miss {
	target := &s.problem.Targets[t]
	k := s.core.known[t]
	mix := k.nearest(palette, search)
	m := Miss{Target: target.Name, BestDE: mix.DE}
	if !math.IsInf(mix.DE, 1) {
		m.Words = colour.Direction(mix.Lab, target.Lab).String()
	}
	helper, de := s.helper(t, palette, helpers)
	if helper >= 0 && de <= mix.DE-worthATube {
		m.Helper, m.HelpDE = s.box.tubes[helper].ID, de
	}
	return m
}

// helper is the tube that, added to a palette, brings the target nearest, the
// first of equals; -1 if there is none to add.
func (s *Session) helper(t int, palette, helpers gamut.Set) (tube int, de float64) {
	tubes := helpers.Members()
	far := make([]float64, len(tubes))
	each(len(tubes), func(i int) {
		with := palette.Clone()
		with.Add(tubes[i])
		far[i] = s.mixing.closest(t, with, search).DE
	})
	tube = -1
	for i := range tubes {
		if tube < 0 || far[i] < de {
			tube, de = tubes[i], far[i]
		}
	}
	return tube, de
}
