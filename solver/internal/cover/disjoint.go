package cover

import (
	"cmp"
	"context"
	"fewtubes/gamut/set"
	"slices"
)

// mostCompared is how many pairs of sets are looked at before the look for
// disjoint ones is given up, some tens of milliseconds: to find out whether there
// are any can take as long as there are ways to choose.
const mostCompared = 2_000_000

// Disjoint are the places of n sets no two of which share a member, the first in
// order; nil when none are found, or the context ends.
func Disjoint(ctx context.Context, sets []set.Set, n int) []int {
	p := &packing{ctx: ctx, sets: sets, left: mostCompared}
	return p.among(set.Full(len(sets)).Members(), n)
}

// packing is a search for disjoint sets, depth first.
type packing struct {
	ctx  context.Context
	sets []set.Set
	left int // pairs to look at
}

// among are n disjoint sets of those at the places given.
func (p *packing) among(places []int, n int) []int {
	if n == 0 {
		return []int{}
	}
	if !p.room(places, n) {
		return nil
	}
	for k, at := range places {
		if len(places)-k < n || p.over() {
			return nil
		}
		var rest []int
		for _, other := range places[k+1:] {
			if !p.sets[other].Meets(p.sets[at]) {
				rest = append(rest, other)
			}
		}
		p.left -= len(places) - k
		if found := p.among(rest, n-1); found != nil {
			return append(found, at)
		}
	}
	return nil
}

func (p *packing) over() bool { return p.left < 0 || p.ctx.Err() != nil }

// room reports whether the members of all the sets would do for n of them.
func (p *packing) room(places []int, n int) bool {
	if len(places) < n {
		return false
	}
	var all set.Set
	sizes := make([]int, len(places))
	for k, at := range places {
		sizes[k] = p.sets[at].Len()
		if k == 0 {
			all = p.sets[at].Clone()
		} else {
			all = set.Union(all, p.sets[at])
		}
	}
	slices.SortFunc(sizes, cmp.Compare[int])
	least := 0
	for _, size := range sizes[:n] {
		least += size
	}
	return least <= all.Len()
}
