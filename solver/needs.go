package solver

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// need is a cut in the proof of the minimum.
type need struct {
	target  int
	failing int     // index in the target's knowledge
	oneOf   set.Set // allowed tubes outside the failing set
	best    float64
}

// cutsFor are the distinct cuts known of the targets under the rules, none
// holding another of its target, in order of target and discovery.
func (c *core) cutsFor(r *rules, targets []int) []need {
	var out []need
	for _, t := range targets {
		start := len(out)
		for i, f := range c.known[t].failings {
			if f.best <= c.tolerance[t] {
				continue
			}
			n := need{t, i, set.Minus(r.allowed, f.set), f.best}
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
	if d.size <= d.rules.keep.Len() {
		return nil, nil
	}
	cuts := c.cutsFor(d.rules, d.reachable)
	widest := func(a, b need) int { return portable.Compare(b.margin(c), a.margin(c), portable.Fine) }
	if d.needs = apart(ctx, cuts, d.size, widest); d.needs != nil {
		d.sortNeeds()
		return d.needs, c.ensure(ctx, d.needs)
	}
	h := newHunt(c.box, nil, d.rules)
	all := make([]*cut, len(cuts))
	for i := range cuts {
		all[i] = &cut{oneOf: cuts[i].oneOf}
	}
	fewer := func(left []int) (outcome, []int) {
		var asked []*cut
		for _, i := range left {
			asked = append(asked, all[i])
		}
		p, of := h.newPicker(&question{size: d.size - 1}, asked)
		p.steps = math.MaxInt
		out := p.pick(ctx)
		if out != failed {
			return out, nil
		}
		why := make([]bool, len(left))
		for at, used := range p.usedCut {
			why[of[at]] = used
		}
		var rest []int
		for at, i := range left {
			if why[at] {
				rest = append(rest, i)
			}
		}
		return out, rest
	}
	out, left := fewer(everyTarget(len(cuts)))
	if out != failed {
		return nil, out.err(ctx)
	}
	slices.SortStableFunc(left, func(i, j int) int { return portable.Compare(cuts[i].margin(c), cuts[j].margin(c), portable.Fine) })
	for i := 0; i < len(left); {
		out, rest := fewer(slices.Delete(slices.Clone(left), i, i+1))
		switch out {
		case cancelled:
			return nil, out.err(ctx)
		case satisfied:
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

// ensure searches needs at verdict effort before they are given as a proof.
func (c *core) ensure(ctx context.Context, needs []need) error {
	byTarget := make([][]*need, len(c.known))
	for i := range needs {
		byTarget[needs[i].target] = append(byTarget[needs[i].target], &needs[i])
	}
	each(len(byTarget), func(t int) {
		for _, n := range byTarget[t] {
			if ctx.Err() == nil {
				c.known[t].ensure(n.failing, c.tolerance[t])
				n.best = c.known[t].failings[n.failing].best
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
