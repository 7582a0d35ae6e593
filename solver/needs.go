package solver

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// need is a cut in the proof of the minimum.
type need struct {
	target  int
	failing int     // index in what is known of the target
	oneOf   set.Set // allowed tubes outside the failing set
	best    float64
}

// cutsFor are the distinct cuts known of the targets under the rules, none
// holding another of its target, in order of target and discovery.
func (c *core) cutsFor(r *cover.Rules, targets []int) []need {
	var out []need
	for _, t := range targets {
		start := len(out)
		for i, f := range c.known[t].Failings {
			if f.Best <= c.tolerance[t] {
				continue
			}
			n := need{t, i, set.Minus(r.Allowed, f.Set), f.Best}
			if slices.ContainsFunc(out[start:], func(o need) bool { return o.oneOf.SubsetOf(n.oneOf) }) {
				continue
			}
			kept := slices.DeleteFunc(slices.Clone(out[start:]), func(o need) bool { return n.oneOf.SubsetOf(o.oneOf) })
			out = append(append(out[:start], kept...), n)
		}
	}
	return out
}

// needs is a minimal set of cuts which, with the limits, no palette of fewer
// tubes meets: the proof of the minimum. Cuts with a narrow margin are spared
// first. It is empty when the tubes to keep are as many as the minimum.
func (c *core) needs(ctx context.Context, d *decision) ([]need, error) {
	if d.size <= d.rules.Keep.Len() {
		return nil, nil
	}
	cuts := c.cutsFor(d.rules, d.reachable)
	widest := func(a, b need) int { return portable.Compare(b.margin(c), a.margin(c), portable.Fine) }
	if d.needs = disjointNeeds(ctx, cuts, d.size, widest); d.needs != nil {
		d.sortNeeds()
		return d.needs, c.ensure(ctx, d.needs)
	}
	fewer := func(left []int) (cover.Outcome, []int) {
		var asked []set.Set
		for _, i := range left {
			asked = append(asked, cuts[i].oneOf)
		}
		rest, out := cover.Refute(ctx, d.rules, c.tubes, asked, d.size-1, 0)
		for k, at := range rest {
			rest[k] = left[at]
		}
		return out, rest
	}
	out, left := fewer(set.Full(len(cuts)).Members())
	if out != cover.Failed {
		return nil, out.Err(ctx)
	}
	slices.SortStableFunc(left, func(i, j int) int { return portable.Compare(cuts[i].margin(c), cuts[j].margin(c), portable.Fine) })
	for i := 0; i < len(left); {
		out, rest := fewer(slices.Delete(slices.Clone(left), i, i+1))
		switch out {
		case cover.Cancelled:
			return nil, out.Err(ctx)
		case cover.Satisfied:
			i++
		default:
			// Those before i are needed whatever is left out after them.
			left = rest
		}
	}
	proof := make([]need, len(left))
	for i, at := range left {
		proof[i] = cuts[at]
	}
	d.needs = proof
	d.sortNeeds()
	return d.needs, c.ensure(ctx, d.needs)
}

// disjointNeeds are as many needs as asked for, no two of which share a tube, those
// first in the given order: the plainest proof that fewer tubes cannot do. It is nil
// when none is found, or the context ends.
func disjointNeeds(ctx context.Context, cuts []need, n int, order func(a, b need) int) []need {
	cuts = slices.Clone(cuts)
	slices.SortStableFunc(cuts, order)
	sets := make([]set.Set, len(cuts))
	for i := range cuts {
		sets[i] = cuts[i].oneOf
	}
	var out []need
	for _, i := range cover.Disjoint(ctx, sets, n) {
		out = append(out, cuts[i])
	}
	return out
}

// ensure searches needs at verdict effort before they are given as a proof.
func (c *core) ensure(ctx context.Context, needs []need) error {
	byTarget := make([][]*need, len(c.known))
	for i := range needs {
		byTarget[needs[i].target] = append(byTarget[needs[i].target], &needs[i])
	}
	parallel.Each(len(byTarget), func(t int) {
		for _, n := range byTarget[t] {
			if ctx.Err() == nil {
				c.known[t].Ensure(n.failing, c.tolerance[t])
				n.best = c.known[t].Failings[n.failing].Best
			}
		}
	})
	for i := range needs {
		if needs[i].best <= c.tolerance[needs[i].target] {
			return errRevoked
		}
	}
	return ctx.Err()
}

// sortNeeds orders needs by target, then by tubes.
func (d *decision) sortNeeds() {
	slices.SortStableFunc(d.needs, func(a, b need) int {
		return cmp.Or(cmp.Compare(a.target, b.target), slices.Compare(a.oneOf.Members(), b.oneOf.Members()))
	})
}

func (n *need) margin(c *core) float64 { return n.best - c.tolerance[n.target] }
