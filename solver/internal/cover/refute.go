package cover

import (
	"cmp"
	"context"
	"math"

	"fewtubes/gamut/set"
)

// Refute asks whether no palette of so many members at most that keeps the rules
// meets all of some sets. Where none does, rest are the places of sets that by
// themselves rule all out, ascending; not minimal. It is cancelled after so many
// steps (0: never), each some microseconds.
func Refute(ctx context.Context, rules *Rules, members int, sets []set.Set, size, steps int) (rest []int, out Result) {
	c := New(rules, members, 1)
	cuts := make([]*Cut, len(sets))
	for i, s := range sets {
		cuts[i] = &Cut{OneOf: s}
	}
	p, of := c.picker(&Question{Size: size}, cuts)
	p.steps = cmp.Or(steps, math.MaxInt)
	if out = p.pick(ctx); out != Failed {
		return nil, out
	}
	why := set.New(len(sets))
	for at, used := range p.usedCut {
		if used {
			why.Add(of[at])
		}
	}
	return why.Members(), out
}
