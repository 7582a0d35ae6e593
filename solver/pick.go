package solver

import (
	"cmp"
	"context"
	"fewtubes/gamut/set"
	"slices"
)

// picker looks for few tubes that hit every cut, by depth first search: it
// branches on the cut with fewest tubes left, and turns back where cuts that
// share no tube ask for more tubes or a larger sum than there is left. Palettes
// are small, so this beats a SAT solver, to which a count over a thousand
// literals and a sum of prices say little before almost everything is decided.
type picker struct {
	tubes  []int     // candidates; sets below are over their places
	cuts   []set.Set // none holds another
	hits   []set.Set // per candidate: the cuts it stands in
	groups []set.Set // at most one of each
	blocks []set.Set // not all of any
	size   int       // tubes at most; < 0: any number
	sums   []bound
	weight [][]int // per sum, per candidate

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

// mostSteps is where a search is given up for the SAT solver.
const mostSteps = 100_000

// newPicker sets a search up; of holds the index of each of its cuts.
func (h *hunt) newPicker(q *question, active []*cut) (p *picker, of []int) {
	r := h.rank(q, active)
	p = &picker{size: h.most(q), sums: r.sums, steps: mostSteps}
	p.tubes, _ = r.part(h.rules.keep)
	place := map[int]int{}
	for at, tube := range p.tubes {
		place[tube] = at
		p.against = append(p.against, r.against[tube])
	}
	over := func(s set.Set) (out set.Set, all bool) {
		out, all = set.New(len(p.tubes)), true
		for _, tube := range s.Members() {
			if at, ok := place[tube]; ok {
				out.Add(at)
			} else {
				all = false
			}
		}
		return out, all
	}
	for _, g := range h.rules.groups {
		held, _ := over(g)
		p.groups = append(p.groups, held)
	}
	for _, b := range h.blocked {
		if held, all := over(b); all {
			p.blocks = append(p.blocks, held)
		}
	}
	for _, b := range p.sums {
		var w []int
		for _, tube := range p.tubes {
			w = append(w, b.sum.weights[tube])
		}
		p.weight = append(p.weight, w)
	}
	p.chosen, _ = over(h.rules.keep)
	of = p.take(active, over)
	return p, of
}

// take keeps the cuts that hold no other, the smallest first.
func (p *picker) take(active []*cut, over func(set.Set) (set.Set, bool)) (of []int) {
	type short struct {
		held set.Set
		at   int
		size int
	}
	var all []short
	for i, c := range active {
		held, _ := over(c.oneOf)
		all = append(all, short{held, i, held.Len()})
	}
	slices.SortStableFunc(all, func(a, b short) int { return cmp.Compare(a.size, b.size) })
	for _, s := range all {
		if !slices.ContainsFunc(p.cuts, func(c set.Set) bool { return c.SubsetOf(s.held) }) {
			p.cuts, of = append(p.cuts, s.held), append(of, s.at)
		}
	}
	p.hits = make([]set.Set, len(p.tubes))
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

// pick leaves the tubes in chosen when it is satisfied. It is cancelled when the
// context ends or the steps do.
func (p *picker) pick(ctx context.Context) outcome {
	p.ctx = ctx
	open, live := set.Full(len(p.cuts)), set.Full(len(p.tubes))
	for _, i := range p.chosen.Members() {
		open = set.Minus(open, p.hits[i])
		p.count++
		for s := range p.sums {
			p.spent[s] += p.weight[s][i]
		}
		live = p.without(live, i)
	}
	for s, b := range p.sums {
		if p.spent[s] > b.most {
			p.usedSum[s] = true
			return failed
		}
	}
	if p.size >= 0 && p.count > p.size {
		p.usedSize = true
		return failed
	}
	return p.dive(open, live)
}

// without takes a tube and all that it rules out from the live ones.
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

// dive hits the open cuts with live tubes.
func (p *picker) dive(open, live set.Set) outcome {
	if slices.ContainsFunc(p.blocks, func(b set.Set) bool { return b.SubsetOf(p.chosen) }) {
		return failed
	}
	left := open.Members()
	if len(left) == 0 {
		return satisfied
	}
	if p.steps--; p.steps < 0 || p.steps%256 == 0 && p.ctx.Err() != nil {
		return cancelled
	}
	narrow := make([]set.Set, len(p.cuts))
	size := make([]int, len(p.cuts))
	for _, c := range left {
		narrow[c] = set.Intersection(p.cuts[c], live)
		size[c] = narrow[c].Len()
	}
	slices.SortStableFunc(left, func(a, b int) int { return cmp.Compare(size[a], size[b]) })
	if p.hopeless(left, narrow) {
		return failed
	}
	branch := left[0]
	p.usedCut[branch] = true
	live = live.Clone()
	for _, i := range p.order(narrow[branch], open) {
		if out := p.try(i, open, live); out != failed {
			return out
		}
		live.Remove(i)
	}
	return failed
}

// try goes on with one tube more.
func (p *picker) try(i int, open, live set.Set) outcome {
	for s, b := range p.sums {
		if p.spent[s]+p.weight[s][i] > b.most {
			p.usedSum[s] = true
			return failed
		}
	}
	p.chosen.Add(i)
	p.count++
	for s := range p.sums {
		p.spent[s] += p.weight[s][i]
	}
	out := p.dive(set.Minus(open, p.hits[i]), p.without(live, i))
	if out == satisfied {
		return out
	}
	p.chosen.Remove(i)
	p.count--
	for s := range p.sums {
		p.spent[s] -= p.weight[s][i]
	}
	return out
}

// order is that of trying tubes: those that hit most open cuts first, then the
// lightest. Tubes in whose place one before serves as well are not tried: what
// they could do, that one could not.
func (p *picker) order(tubes, open set.Set) []int {
	type trial struct {
		tube, hits, load int
		cuts             set.Set
	}
	var all []trial
	for _, i := range tubes.Members() {
		t := trial{tube: i, cuts: set.Intersection(p.hits[i], open)}
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
			return t.cuts.SubsetOf(b.cuts) && p.against[b.tube].SubsetOf(p.against[t.tube]) && p.lighter(b.tube, t.tube)
		}) {
			continue
		}
		best, out = append(best, t), append(out, t.tube)
	}
	return out
}

// lighter reports whether a tube weighs no more than another in any sum.
func (p *picker) lighter(tube, other int) bool {
	for _, w := range p.weight {
		if w[tube] > w[other] {
			return false
		}
	}
	return true
}

// hopeless reports whether the open cuts, the smallest first, ask for more than
// is left: for more tubes, as those of them do that share no tube, or for a larger
// sum. What the sum must come to at least is a dual ascent: every cut in turn
// takes what its lightest tube still weighs from all its tubes.
func (p *picker) hopeless(left []int, narrow []set.Set) bool {
	var apart []int
	used := set.New(len(p.tubes))
	for _, c := range left {
		if narrow[c].Meets(used) {
			continue
		}
		apart = append(apart, c)
		switch {
		case narrow[c].Len() == 0:
			return p.because(apart)
		case p.size >= 0 && p.count+len(apart) > p.size:
			p.usedSize = true
			return p.because(apart)
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
	spare := p.sums[s].most - p.spent[s]
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
