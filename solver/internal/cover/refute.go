package cover

import (
	"cmp"
	"context"
	"math"
	"slices"
	"time"

	"fewtubes/gamut/set"
)

// Refuter asks whether no palette of so many members at most that keeps the rules
// meets some sets.
type Refuter struct {
	c *Cover
	q *Question
}

// Refuter is about sets of members, whatever the cuts of the cover.
func (c *Cover) Refuter(sets []set.Set, size int) *Refuter {
	r := &Refuter{New(c.rules, c.members, 1, c.uses), &Question{Size: size}}
	r.c.Few = c.Few
	for _, s := range sets {
		r.c.Add(&Cut{OneOf: s})
	}
	return r
}

// Grow finds sets that by themselves rule every palette out: of those at some places
// the first that the palette met so far misses, and further ones apart from these,
// until there is none. So it comes to few of them. They are given ascending, and are
// not minimal.
func (r *Refuter) Grow(ctx context.Context, at []int) (grown []int, out Result) {
	var asked []*Cut
	for {
		said := r.c.answer(ctx, r.q, asked)
		switch said.out {
		case Failed:
			return r.placesOf(said.cuts), Failed
		case Cancelled:
			return nil, Cancelled
		}
		before, taken := len(asked), said.palette
		for _, i := range at {
			if cut := r.c.cuts[i]; !cut.OneOf.Meets(taken) {
				asked, taken = append(asked, cut), set.Union(taken, cut.OneOf)
			}
		}
		if len(asked) == before {
			return nil, Satisfied
		}
	}
}

// placesOf are the places of some cuts.
func (r *Refuter) placesOf(cuts []*Cut) (at []int) {
	for i, c := range r.c.cuts {
		if slices.Contains(cuts, c) {
			at = append(at, i)
		}
	}
	return at
}

// Refute asks about the sets at some places; where no palette meets them all, the SAT
// solver says so too. rest are then places of sets that by themselves rule all out;
// not minimal. It is cancelled after so many steps (0: never), each some microseconds.
func (r *Refuter) Refute(ctx context.Context, at []int, steps int) (rest []int, out Result) {
	asked := make([]*Cut, len(at))
	for k, i := range at {
		asked[k] = r.c.cuts[i]
	}
	why := asked
	if !r.c.preferSAT(r.q) {
		p, of := r.c.picker(r.q, asked)
		p.steps = cmp.Or(steps, math.MaxInt)
		began := time.Now()
		out = p.pick(ctx)
		if r.c.uses.Search.since(began); out != Failed {
			return nil, out
		}
		why = p.usedOf(asked, of)
	}
	said := r.c.sure.ask(ctx, r.q, why)
	if said.out != Failed {
		return nil, said.out
	}
	if r.c.preferSAT(r.q) {
		why = said.cuts
	}
	for k, i := range at {
		if slices.Contains(why, asked[k]) {
			rest = append(rest, i)
		}
	}
	return rest, Failed
}
