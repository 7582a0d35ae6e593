package cover

import (
	"cmp"
	"context"
	"fewtubes/gamut/set"
	"slices"
)

// picker looks for few members that hit every cut, by depth first search: it
// branches on the cut with fewest members left, and turns back where cuts that have
// no member in common ask for more members or a larger sum than there is left.
// Palettes are small, so this beats a SAT solver, to which a count over a thousand
// literals and a sum of weights say little before almost everything is decided.
type picker struct {
	members []int     // candidates; sets below are over their places
	cuts    []set.Set // none holds another
	hits    []set.Set // per candidate: the cuts it stands in
	groups  []set.Set // at most one of each
	blocks  []set.Set // not all of any
	size    int       // members at most; < 0: any number
	sums    []Bound
	weight  [][]int // per sum, per candidate

	against []set.Set // per candidate: the groups and blocked palettes it stands in

	ctx    context.Context
	steps  int // left
	chosen set.Set
	spent  []int // per sum
	count  int

	// What a failure rests on.
	usedCut  []bool
	usedSize bool
	usedSum  []bool
}

// MostSteps is where a search is given up for the SAT solver.
const MostSteps = 100_000

// searcher is the picker as an engine.
type searcher struct{ *Cover }

func (s searcher) ask(ctx context.Context, q *Question, active []*Cut) reply {
	if ctx.Err() != nil {
		return reply{out: Cancelled}
	}
	p, of := s.picker(q, active)
	r := reply{out: p.pick(ctx)}
	switch r.out {
	case Satisfied:
		r.palette = set.New(s.members)
		for _, at := range p.chosen.Members() {
			r.palette.Add(p.members[at])
		}
	case Failed:
		r.cuts = p.usedOf(active, of)
		for _, g := range s.lits.limits {
			r.limits = append(r.limits, g.limit)
		}
		for i, b := range s.bounds() {
			if p.usedSum[i] {
				r.limits = append(r.limits, b.limit)
			}
		}
		if p.usedSize {
			r.limits = append(r.limits, Limit{Most, s.most(q)})
		}
	}
	return r
}

// picker sets a search up; of holds the index of each of its cuts.
func (c *Cover) picker(q *Question, active []*Cut) (p *picker, of []int) {
	m := c.merits(q, active)
	p = &picker{size: c.most(q), sums: m.sums, steps: MostSteps}
	p.members, _ = m.divide(c.rules.Keep)
	place := map[int]int{}
	for at, i := range p.members {
		place[i] = at
		p.against = append(p.against, m.against[i])
	}
	over := func(s set.Set) (out set.Set, all bool) {
		out, all = set.New(len(p.members)), true
		for _, i := range s.Members() {
			if at, ok := place[i]; ok {
				out.Add(at)
			} else {
				all = false
			}
		}
		return out, all
	}
	for _, g := range c.rules.Groups {
		held, _ := over(g)
		p.groups = append(p.groups, held)
	}
	for _, b := range c.blocked {
		if held, all := over(b); all {
			p.blocks = append(p.blocks, held)
		}
	}
	for _, b := range p.sums {
		var w []int
		for _, i := range p.members {
			w = append(w, b.Sum.weights[i])
		}
		p.weight = append(p.weight, w)
	}
	p.chosen, _ = over(c.rules.Keep)
	of = p.take(active, over)
	return p, of
}

// take keeps the cuts that hold no other, the smallest first.
func (p *picker) take(active []*Cut, over func(set.Set) (set.Set, bool)) (of []int) {
	type short struct {
		held set.Set
		at   int
		size int
	}
	var all []short
	for i, c := range active {
		held, _ := over(c.OneOf)
		all = append(all, short{held, i, held.Len()})
	}
	slices.SortStableFunc(all, func(a, b short) int { return cmp.Compare(a.size, b.size) })
	for _, s := range all {
		if !slices.ContainsFunc(p.cuts, func(c set.Set) bool { return c.SubsetOf(s.held) }) {
			p.cuts, of = append(p.cuts, s.held), append(of, s.at)
		}
	}
	p.hits = make([]set.Set, len(p.members))
	for i := range p.hits {
		p.hits[i] = set.New(len(p.cuts))
	}
	for c, held := range p.cuts {
		for _, i := range held.Members() {
			p.hits[i].Add(c)
		}
	}
	p.usedCut, p.usedSum, p.spent = make([]bool, len(p.cuts)), make([]bool, len(p.sums)), make([]int, len(p.sums))
	return of
}

// pick leaves the palette in chosen when it is satisfied. It is cancelled when the
// context ends or the steps do.
func (p *picker) pick(ctx context.Context) Result {
	p.ctx = ctx
	open, live := set.Full(len(p.cuts)), set.Full(len(p.members))
	for _, i := range p.chosen.Members() {
		open = set.Minus(open, p.hits[i])
		p.count++
		for s := range p.sums {
			p.spent[s] += p.weight[s][i]
		}
		live = p.without(live, i)
	}
	for s, b := range p.sums {
		if p.spent[s] > b.Most {
			p.usedSum[s] = true
			return Failed
		}
	}
	if p.size >= 0 && p.count > p.size {
		p.usedSize = true
		return Failed
	}
	return p.dive(open, live)
}

// without takes a member and all that it rules out from the live ones.
func (p *picker) without(live set.Set, i int) set.Set {
	live = live.Clone()
	for _, g := range p.groups {
		if g.Has(i) {
			live = set.Minus(live, g)
		}
	}
	live.Remove(i)
	return live
}

// dive hits the open cuts with live members.
func (p *picker) dive(open, live set.Set) Result {
	if slices.ContainsFunc(p.blocks, func(b set.Set) bool { return b.SubsetOf(p.chosen) }) {
		return Failed
	}
	left := open.Members()
	if len(left) == 0 {
		return Satisfied
	}
	if p.steps--; p.steps < 0 || p.steps%256 == 0 && p.ctx.Err() != nil {
		return Cancelled
	}
	narrow := make([]set.Set, len(p.cuts))
	size := make([]int, len(p.cuts))
	for _, c := range left {
		narrow[c] = set.Intersection(p.cuts[c], live)
		size[c] = narrow[c].Len()
	}
	slices.SortStableFunc(left, func(a, b int) int { return cmp.Compare(size[a], size[b]) })
	if p.hopeless(left, narrow) {
		return Failed
	}
	branch := left[0]
	p.usedCut[branch] = true
	live = live.Clone()
	for _, i := range p.order(narrow[branch], open) {
		if out := p.try(i, open, live); out != Failed {
			return out
		}
		live.Remove(i)
	}
	return Failed
}

// try goes on with one member more.
func (p *picker) try(i int, open, live set.Set) Result {
	for s, b := range p.sums {
		if p.spent[s]+p.weight[s][i] > b.Most {
			p.usedSum[s] = true
			return Failed
		}
	}
	p.chosen.Add(i)
	p.count++
	for s := range p.sums {
		p.spent[s] += p.weight[s][i]
	}
	out := p.dive(set.Minus(open, p.hits[i]), p.without(live, i))
	if out == Satisfied {
		return out
	}
	p.chosen.Remove(i)
	p.count--
	for s := range p.sums {
		p.spent[s] -= p.weight[s][i]
	}
	return out
}

// order is that of trying members: those that hit most open cuts first, then the
// lightest. Members in whose place one before serves as well are not tried: what
// they could do, that one could not.
func (p *picker) order(members, open set.Set) []int {
	type trial struct {
		member, hits, load int
		cuts               set.Set
	}
	var all []trial
	for _, i := range members.Members() {
		t := trial{member: i, cuts: set.Intersection(p.hits[i], open)}
		t.hits = t.cuts.Len()
		for s := range p.sums {
			t.load += p.weight[s][i]
		}
		all = append(all, t)
	}
	slices.SortStableFunc(all, func(a, b trial) int {
		return cmp.Or(cmp.Compare(b.hits, a.hits), cmp.Compare(a.load, b.load))
	})
	var best []trial
	var out []int
	for _, t := range all {
		if slices.ContainsFunc(best, func(b trial) bool {
			return t.cuts.SubsetOf(b.cuts) && p.against[b.member].SubsetOf(p.against[t.member]) && p.lighter(b.member, t.member)
		}) {
			continue
		}
		best, out = append(best, t), append(out, t.member)
	}
	return out
}

// lighter reports whether a member weighs no more than another in any sum.
func (p *picker) lighter(i, other int) bool {
	for _, w := range p.weight {
		if w[i] > w[other] {
			return false
		}
	}
	return true
}

// hopeless reports whether the open cuts, the smallest first, ask for more than is
// left: for more members, as those of them do that have none in common, or for a
// larger sum. What the sum must come to at least is a dual ascent: every cut in turn
// takes what its lightest member still weighs from all its members.
func (p *picker) hopeless(left []int, narrow []set.Set) bool {
	var disjoint []int
	used := set.New(len(p.members))
	for _, c := range left {
		if narrow[c].Meets(used) {
			continue
		}
		disjoint = append(disjoint, c)
		switch {
		case narrow[c].Len() == 0:
			return p.because(disjoint)
		case p.size >= 0 && p.count+len(disjoint) > p.size:
			p.usedSize = true
			return p.because(disjoint)
		}
		used = set.Union(used, narrow[c])
	}
	for s := range p.sums {
		if paying := p.atLeast(s, left, narrow); paying != nil {
			p.usedSum[s] = true
			return p.because(paying)
		}
	}
	return false
}

// atLeast are cuts that ask for more of a sum than is left, or nil.
func (p *picker) atLeast(s int, left []int, narrow []set.Set) (paying []int) {
	rest := slices.Clone(p.weight[s])
	spare := p.sums[s].Most - p.spent[s]
	for _, c := range left {
		members := narrow[c].Members()
		lightest := rest[members[0]]
		for _, i := range members {
			lightest = min(lightest, rest[i])
		}
		if lightest == 0 {
			continue
		}
		for _, i := range members {
			rest[i] -= lightest
		}
		paying = append(paying, c)
		if spare -= lightest; spare < 0 {
			return paying
		}
	}
	return nil
}

// because notes the cuts that a failure rests on.
func (p *picker) because(cuts []int) bool {
	for _, c := range cuts {
		p.usedCut[c] = true
	}
	return true
}

// usedOf are those of some cuts that a failure rests on.
func (p *picker) usedOf(cuts []*Cut, of []int) (out []*Cut) {
	for at, used := range p.usedCut {
		if used {
			out = append(out, cuts[of[at]])
		}
	}
	return out
}
