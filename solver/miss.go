package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/parallel"
)

// worthATube is the CIEDE2000 a single tube must bring a missed target nearer
// to be named: less is hard to see (common practice, no source).
const worthATube = 0.1

// miss says how the nearest mix of a palette misses a target, and which one tube
// of the helpers, added to the palette, would bring the target nearest; not that
// when the context ends.
func (s *Session) miss(ctx context.Context, t int, mix gamut.Mix, palette, helpers set.Set) Miss {
	m := s.missBy(t, mix)
	tubes := helpers.Members()
	if far := s.withEach(ctx, t, palette, tubes); len(far) > 0 && ctx.Err() == nil {
		at := nearestOf(far)
		s.help(&m, tubes[at], far[at])
	}
	return m
}

// missBy says how a mix misses a target.
func (s *Session) missBy(t int, mix gamut.Mix) Miss {
	target := &s.problem.Targets[t]
	m := Miss{Target: target.Name, BestDE: mix.DE}
	if !math.IsInf(mix.DE, 1) {
		m.Words = colour.Direction(mix.Lab, target.Lab).String()
	}
	return m
}

// help names a tube that brings a missed target to a difference, if it is worth it.
func (s *Session) help(m *Miss, tube int, de float64) {
	if de <= m.BestDE-worthATube {
		m.Helper, m.HelpDE = s.index.tubes[tube].ID, de
	}
}

// withEach are the differences that a palette comes to with one of some tubes
// more, as far as known when the context ends.
func (s *Session) withEach(ctx context.Context, t int, palette set.Set, tubes []int) []float64 {
	far := make([]float64, len(tubes))
	parallel.Each(len(tubes), func(i int) {
		if ctx.Err() == nil {
			with := palette.Clone()
			with.Add(tubes[i])
			far[i] = s.choice.Oracle.Closest(t, with, gamut.Search).DE
		}
	})
	return far
}

// nearestOf is the place of the least difference, the first of equals.
func nearestOf(far []float64) int { return slices.Index(far, slices.Min(far)) }
