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
	p := &packing{ctx: ctx, sets: sets, left: mostCompared, apart: make([]set.Set, len(sets)), rest: make([]set.Set, n)}
	p.smallest = set.Full(len(sets)).Members()
	slices.SortStableFunc(p.smallest, func(i, j int) int { return cmp.Compare(sets[i].Len(), sets[j].Len()) })
	return p.among(set.Full(len(sets)), n)
}

// packing is a search for disjoint sets, depth first.
type packing struct {
	ctx      context.Context
	sets     []set.Set
	left     int       // pairs to look at
	apart    []set.Set // per set: those after it that it shares no member with; nil: not looked at
	smallest []int     // all sets, those of fewest members first
	rest     []set.Set // by how many are still to be found
	all      set.Set
}

// among are n disjoint sets of those at the places given.
func (p *packing) among(places set.Set, n int) []int {
	if n == 0 {
		return []int{}
	}
	left := places.Len()
	if left < n || !p.room(places, n) {
		return nil
	}
	for at := range p.sets {
		if !places.Has(at) {
			continue
		}
		if left < n || p.over() {
			return nil
		}
		rest := append(p.rest[n-1][:0], places...)
		rest.Restrict(p.apartFrom(at))
		p.rest[n-1] = rest
		p.left -= left
		left--
		if found := p.among(rest, n-1); found != nil {
			return append(found, at)
		}
	}
	return nil
}

func (p *packing) over() bool { return p.left < 0 || p.ctx.Err() != nil }

// apartFrom are the sets after one that it shares no member with.
func (p *packing) apartFrom(at int) set.Set {
	if p.apart[at] == nil {
		p.apart[at] = set.New(len(p.sets))
		for other := at + 1; other < len(p.sets); other++ {
			if !p.sets[other].Meets(p.sets[at]) {
				p.apart[at].Add(other)
			}
		}
	}
	return p.apart[at]
}

// room reports whether the members of all the sets would do for n of them.
func (p *packing) room(places set.Set, n int) bool {
	least := 0
	for _, at := range p.smallest {
		if n > 0 && places.Has(at) {
			least += p.sets[at].Len()
			n--
		}
	}
	p.all = p.all[:0]
	for at, s := range p.sets {
		if !places.Has(at) {
			continue
		}
		if len(p.all) == 0 {
			p.all = append(p.all, s...)
		}
		if p.all.Unite(s); p.all.Len() >= least {
			return true
		}
	}
	return false
}
