package choice

import (
	"context"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// fewestNew bounds the rules of a decision to as few of some tubes as a palette
// takes that reaches every reachable target, whatever its size, and gives the needs
// that say so, and such a palette. Where the limits allow none the rules stay as they
// are.
func (c *Core) fewestNew(ctx context.Context, d *Decision, tubes set.Set) (palette set.Set, err error) {
	for most := 0; len(d.Reachable) > 0; most++ {
		r := d.Rules.WithNew(tubes, most)
		h := c.Hunt(r)
		h.demand(&Demand{targets: d.Reachable, tolerance: c.Tolerance})
		seen := c.watching(h, d, nil)
		seen.rules = d.Rules
		palette, out, err := h.find(ctx, cover.Question{Size: -1})
		d.Rounds, d.Cuts = d.Rounds+h.rounds, d.Cuts+h.loaded
		switch {
		case err != nil:
			d.interrupted(seen)
			return nil, err
		case out == cover.Satisfied:
			if d.NewNeeds, err = c.newNeeds(ctx, d, r); err == nil {
				d.Rules = r
			}
			return palette, err
		case !slices.Contains(h.Blame(), cover.Limit{Kind: cover.MostNew, At: most}):
			return nil, nil
		}
	}
	return nil, nil
}

// newNeeds are needs that ask for as many new tubes as rules allow: they prove that
// fewer will not do. Those that no other tube answers are plainest.
func (c *Core) newNeeds(ctx context.Context, d *Decision, r *cover.Rules) ([]Need, error) {
	if r.NewMost <= set.Intersection(r.New, r.Keep).Len() {
		return nil, nil
	}
	cuts := c.cutsFor(r, d.Reachable)
	var plain []Need
	if !r.New.Meets(r.Keep) {
		plain = slices.DeleteFunc(slices.Clone(cuts), func(n Need) bool { return !n.OneOf.SubsetOf(r.New) })
	}
	return c.proof(ctx, r.WithNew(r.New, r.NewMost-1), cuts, plain, r.NewMost, -1)
}
