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
