package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
)

// What a certificate costs grows as the margin of a need shrinks, so before
// needs are certified others are looked for that prove the same minimum with
// more to spare: cuts of the targets at wider tolerances, which hold at the
// tolerance asked for all the more.

// widen replaces the needs of an answer by wider ones if there are any. What is
// learnt on the way is not kept: later answers must not depend on it.
func (s *Session) widen(ctx context.Context, r *cover.Rules, a *Answer) error {
	if a.Minimum.Proof != Searched || len(a.Needs) == 0 || s.narrowest(a.Needs) >= choice.Wide {
		return nil
	}
	c := s.choice.Blank()
	if a.behind != nil {
		c = a.behind.Copy()
	}
	d := &choice.Decision{Rules: r, Size: a.Minimum.Tubes}
	for t := range s.problem.Targets {
		if !slices.ContainsFunc(a.Unreachable, func(m Miss) bool { return m.Target == s.problem.Targets[t].Name }) {
			d.Reachable = append(d.Reachable, t)
		}
	}
	found, err := c.WideNeeds(ctx, d)
	if err != nil || len(found) == 0 {
		return err
	}
	if wider := s.needs(found); s.narrowest(wider) > s.narrowest(a.Needs) {
		a.Needs = wider
	}
	return nil
}

// narrowest is the least margin of needs.
func (s *Session) narrowest(needs []Need) float64 {
	least := math.Inf(1)
	for _, n := range needs {
		least = min(least, n.BestDE-s.problem.Targets[s.targetIndex(n.Target)].Tolerance)
	}
	return least
}
