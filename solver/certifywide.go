package solver

import (
	"context"
	"errors"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// What a certificate costs grows as the margin of a need shrinks, so before
// needs are certified others are looked for that prove the same minimum with
// more to spare: cuts of the targets at wider tolerances, which hold at the
// tolerance asked for all the more.

const (
	wide       = 0.5 // CIEDE2000 to spare with which nothing is left to wish for
	less       = 0.8 // of what a palette misses a target by is asked for once it is seen
	hardly     = 0.005
	mostWidths = 200 // palettes looked at
)

// widen replaces the needs of an answer by wider ones if there are any. What is
// learnt on the way is not kept: later answers must not depend on it.
func (s *Session) widen(ctx context.Context, r *cover.Rules, a *Answer) error {
	if a.Minimum.Proof != Searched || len(a.Needs) == 0 || s.narrowest(a.Needs) >= wide {
		return nil
	}
	c := s.choice.blank()
	if a.behind != nil {
		c = a.behind.copied()
	}
	d := &decision{rules: r, size: a.Minimum.Tubes}
	for t := range s.problem.Targets {
		if !slices.ContainsFunc(a.Unreachable, func(m Miss) bool { return m.Target == s.problem.Targets[t].Name }) {
			d.reachable = append(d.reachable, t)
		}
	}
	found, err := c.wideNeeds(ctx, d)
	if err != nil || len(found) == 0 {
		return err
	}
	if wider := s.needs(&decision{needs: found}); s.narrowest(wider) > s.narrowest(a.Needs) {
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

// wideNeeds are needs of the decision's minimum that hold at tolerances as wide as
// can be; nil when none were found.
func (c *core) wideNeeds(ctx context.Context, d *decision) ([]need, error) {
	asked := c.tolerance
	c.tolerance = slices.Clone(asked)
	for _, t := range d.reachable {
		c.tolerance[t] += wide
	}
	for range mostWidths {
		h := newHunt(c.tubes, c.known, d.rules)
		h.demand(&demand{targets: d.reachable, tolerance: c.tolerance})
		palette, out, err := h.find(ctx, cover.Question{Size: d.size - 1})
		if out == cover.Failed && err == nil {
			var found []need
			if found, err = c.needs(ctx, d); err == nil {
				return found, nil
			}
		}
		switch {
		case errors.Is(err, errRevoked):
		case err != nil:
			return nil, err
		case !c.narrow(d.reachable, asked, palette):
			return nil, nil
		}
	}
	return nil, nil
}

// narrow lowers the tolerance of the target that a palette misses by most, so
// that it misses it still. False: it misses none.
func (c *core) narrow(targets []int, asked []float64, palette set.Set) bool {
	misses := make([]float64, len(c.known))
	parallel.Each(len(targets), func(i int) {
		t := targets[i]
		misses[t] = c.known[t].Nearest(palette, gamut.Search).DE - asked[t]
	})
	at := 0
	for t, m := range misses {
		if m > misses[at] {
			at = t
		}
	}
	if !(misses[at] > 0) {
		return false
	}
	spare := min(misses[at], c.tolerance[at]-asked[at]) * less
	if spare < hardly {
		spare = 0
	}
	c.tolerance[at] = asked[at] + spare
	return true
}
