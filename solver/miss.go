package solver

import (
	"context"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// worthATube is the CIEDE2000 a single tube must bring a missed target nearer
// to be named: less is hard to see (common practice, no source).
const worthATube = 0.1

// miss says how the nearest mix of a palette misses a target, and which one tube
// of the helpers, added to the palette, would bring the target nearest; not that
// when the context ends.
func (s *Session) miss(ctx context.Context, t int, mix gamut.Mix, palette, helpers gamut.Set) Miss {
	target := &s.problem.Targets[t]
	m := Miss{Target: target.Name, BestDE: mix.DE}
	if !math.IsInf(mix.DE, 1) {
		m.Words = colour.Direction(mix.Lab, target.Lab).String()
	}
	helper, de := s.helper(ctx, t, palette, helpers)
	if helper >= 0 && de <= mix.DE-worthATube {
		m.Helper, m.HelpDE = s.box.tubes[helper].ID, de
	}
	return m
}

// helper is the tube that, added to a palette, brings the target nearest, the
// first of equals; -1 if there is none to add.
func (s *Session) helper(ctx context.Context, t int, palette, helpers gamut.Set) (tube int, de float64) {
	tubes := helpers.Members()
	far := make([]float64, len(tubes))
	each(len(tubes), func(i int) {
		if ctx.Err() == nil {
			with := palette.Clone()
			with.Add(tubes[i])
			far[i] = s.oracle.closest(t, with, search).DE
		}
	})
	if ctx.Err() != nil {
		return -1, 0
	}
	tube = -1
	for i := range tubes {
		if tube < 0 || portable.Compare(far[i], de, portable.Fine) < 0 {
			tube, de = tubes[i], far[i]
		}
	}
	return tube, de
}
