package cover

import (
	"cmp"
	"context"
	"math"
	"time"

	"fewtubes/gamut/set"
)

// Refute asks whether no palette of so many members at most that keeps the rules
// meets all of some sets, whatever the cuts; where none does, the SAT solver says so too. rest are then
// the places of sets that by themselves rule all out, ascending; not minimal. It is
// cancelled after so many steps (0: never), each some microseconds.
func (c *Cover) Refute(ctx context.Context, sets []set.Set, size, steps int) (rest []int, out Result) {
	c = New(c.rules, c.members, 1, c.uses)
	for _, s := range sets {
		c.Add(&Cut{OneOf: s})
	}
	q := &Question{Size: size}
	p, of := c.picker(q, c.cuts)
	p.steps = cmp.Or(steps, math.MaxInt)
	began := time.Now()
	out = p.pick(ctx)
	if c.uses.Search.since(began); out != Failed {
		return nil, out
	}
	why := set.New(len(sets))
	var cuts []*Cut
	for at, used := range p.usedCut {
		if used {
			why.Add(of[at])
			cuts = append(cuts, c.cuts[of[at]])
		}
	}
	return why.Members(), c.sure.ask(ctx, q, cuts).out
}
