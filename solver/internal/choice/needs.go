package choice

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// Need is a cut in the proof of the minimum.
type Need struct {
	Target  int
	failing int     // index in what is known of the target
	OneOf   set.Set // allowed tubes outside the failing set
	Best    float64
}

// cutsFor are the distinct cuts known of the targets under the rules, none
// holding another of its target, in order of target and discovery.
func (c *Core) cutsFor(r *cover.Rules, targets []int) []Need {
	var out []Need
	for _, t := range targets {
		start := len(out)
		for i, f := range c.Known[t].Failings {
			if f.Best <= c.Tolerance[t] {
				continue
			}
			n := Need{t, i, set.Minus(r.Allowed, f.Set), f.Best}
			if slices.ContainsFunc(out[start:], func(o Need) bool { return o.OneOf.SubsetOf(n.OneOf) }) {
				continue
			}
			kept := slices.DeleteFunc(slices.Clone(out[start:]), func(o Need) bool { return n.OneOf.SubsetOf(o.OneOf) })
			out = append(append(out[:start], kept...), n)
		}
	}
	return out
}

// mostShrunk is how many needs a proof may have to be made minimal. Of more nobody
// reads each, and it takes longer than all the rest of a choice.
const mostShrunk = 120

// needs is a set of cuts which, with the limits, no palette of fewer tubes meets: the
// proof of the minimum. It is empty when the tubes to keep are as many as the minimum.
func (c *Core) needs(ctx context.Context, d *Decision) ([]Need, error) {
	if d.Size <= d.Rules.Keep.Len() {
		return nil, nil
	}
	cuts := c.cutsFor(d.Rules, d.Reachable)
	return c.proof(ctx, d.Rules, cuts, cuts, d.Size, d.Size-1)
}

// proof is a set of cuts that no palette of so many tubes (< 0: of any number) under
// the rules meets: n of the plain ones without a tube in common, where there are
// such. None of them can be spared, where they are no more than mostShrunk; those with
// a narrow margin are spared first.
func (c *Core) proof(ctx context.Context, r *cover.Rules, cuts, plain []Need, n, size int) ([]Need, error) {
	widest := func(a, b Need) int { return portable.Compare(b.margin(c), a.margin(c), portable.Fine) }
	if found := disjointOf(ctx, plain, n, widest); found != nil {
		sortNeeds(found)
		return found, c.ensure(ctx, found)
	}
	asked := make([]set.Set, len(cuts))
	for i := range cuts {
		asked[i] = cuts[i].OneOf
	}
	fewer := c.Hunt(r).Refuter(asked, size)
	order := set.Full(len(cuts)).Members()
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(widest(cuts[i], cuts[j]), cmp.Compare(cuts[i].OneOf.Len(), cuts[j].OneOf.Len()))
	})
	left, out := fewer.Grow(ctx, order)
	switch out {
	case cover.Satisfied: // a mix that was learnt since took back a cut that the size rests on
		return nil, errRevoked
	case cover.Cancelled:
		return nil, out.Err(ctx)
	}
	slices.SortStableFunc(left, func(i, j int) int { return portable.Compare(cuts[i].margin(c), cuts[j].margin(c), portable.Fine) })
	for i := 0; i < len(left) && len(left) <= mostShrunk; {
		rest, out := fewer.Refute(ctx, slices.Delete(slices.Clone(left), i, i+1), 0)
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
	proof := make([]Need, len(left))
	for i, at := range left {
		proof[i] = cuts[at]
	}
	sortNeeds(proof)
	return proof, c.ensure(ctx, proof)
}

// disjointOf are as many needs as asked for, no two of which share a tube, those
// first in the given order: the plainest proof that fewer tubes cannot do. It is nil
// when none is found, or the context ends.
func disjointOf(ctx context.Context, cuts []Need, n int, order func(a, b Need) int) []Need {
	cuts = slices.Clone(cuts)
	slices.SortStableFunc(cuts, order)
	sets := make([]set.Set, len(cuts))
	for i := range cuts {
		sets[i] = cuts[i].OneOf
	}
	var out []Need
	for _, i := range cover.Disjoint(ctx, sets, n) {
		out = append(out, cuts[i])
	}
	return out
}

// DisjointNeeds are as many needs of some targets as asked for without a tube in
// common, those of fewest tubes first, by target; nil where none were found among
// the cuts known.
func (c *Core) DisjointNeeds(ctx context.Context, r *cover.Rules, targets []int, n int) ([]Need, error) {
	smallest := func(a, b Need) int { return cmp.Compare(a.OneOf.Len(), b.OneOf.Len()) }
	var found []Need
	err := Retry(func() error {
		found = disjointOf(ctx, c.cutsFor(r, targets), n, smallest)
		return c.ensure(ctx, found)
	})
	if err != nil {
		return nil, err
	}
	sortNeeds(found)
	return found, nil
}

// ensure searches needs at verdict effort before they are given as a proof.
func (c *Core) ensure(ctx context.Context, needs []Need) error {
	byTarget := make([][]*Need, len(c.Known))
	for i := range needs {
		byTarget[needs[i].Target] = append(byTarget[needs[i].Target], &needs[i])
	}
	parallel.Each(len(byTarget), func(t int) {
		for _, n := range byTarget[t] {
			if ctx.Err() == nil {
				c.Known[t].Ensure(n.failing, c.Tolerance[t])
				n.Best = c.Known[t].Failings[n.failing].Best
			}
		}
	})
	for i := range needs {
		if needs[i].Best <= c.Tolerance[needs[i].Target] {
			return errRevoked
		}
	}
	return ctx.Err()
}

// sortNeeds orders needs by target, then by tubes.
func sortNeeds(needs []Need) {
	slices.SortStableFunc(needs, func(a, b Need) int {
		return cmp.Or(cmp.Compare(a.Target, b.Target), slices.Compare(a.OneOf.Members(), b.OneOf.Members()))
	})
}

func (n *Need) margin(c *Core) float64 { return n.Best - c.Tolerance[n.Target] }
