package cover

import (
	"cmp"
	"context"
	"fewtubes/gamut/set"
	"math"
	"math/bits"
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
	steps  int     // left
	depths []depth // by members chosen
	chosen set.Set
	spent  []int // per sum
	count  int

	// What a failure rests on.
	usedCut  []bool
	usedSize bool
	usedSum  []bool

	// What is written over at every step.
	used           set.Set
	tally          []int
	unsorted, rest []int
	why            []int // cuts
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

// depth is what a dive works with when so many members are chosen.
type depth struct {
	open, live set.Set   // what it is given
	left       []int     // open cuts, those with fewest live members first
	narrow     []set.Set // per cut: its live members
	size       []int     // how many
	trials     []trial
}

// trial is a member that may be chosen.
type trial struct {
	member, hits, load int
	cuts               set.Set // open ones that it stands in
}

// pick leaves the palette in chosen when it is satisfied. It is cancelled when the
// context ends or the steps do.
func (p *picker) pick(ctx context.Context) Result {
	p.ctx = ctx
	open, live := set.Full(len(p.cuts)), set.Full(len(p.members))
	for _, i := range p.chosen.Members() {
		open.Subtract(p.hits[i])
		p.count++
		for s := range p.sums {
			p.spent[s] += p.weight[s][i]
		}
		p.ruleOut(live, i)
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
	p.depths = make([]depth, len(p.members)+1)
	p.used, p.tally = set.New(len(p.members)), make([]int, len(p.members)+2)
	d := p.at(p.count)
	copy(d.open, open)
	copy(d.live, live)
	return p.dive()
}

// at is what a dive works with at a depth.
func (p *picker) at(count int) *depth {
	d := &p.depths[count]
	if d.open == nil {
		d.open, d.live = set.New(len(p.cuts)), set.New(len(p.members))
		d.narrow, d.size = make([]set.Set, len(p.cuts)), make([]int, len(p.cuts))
		words := len(d.live)
		all := make(set.Set, len(p.cuts)*words)
		for c := range d.narrow {
			d.narrow[c] = all[c*words : (c+1)*words]
		}
	}
	return d
}

// ruleOut takes a member and all that it rules out from the live ones.
func (p *picker) ruleOut(live set.Set, i int) {
	for _, g := range p.groups {
		if g.Has(i) {
			live.Subtract(g)
		}
	}
	live.Remove(i)
}

// dive hits the open cuts with live members.
func (p *picker) dive() Result {
	if slices.ContainsFunc(p.blocks, func(b set.Set) bool { return b.SubsetOf(p.chosen) }) {
		return Failed
	}
	d := &p.depths[p.count]
	if d.left = d.open.AppendMembers(d.left[:0]); len(d.left) == 0 {
		return Satisfied
	}
	if p.steps--; p.steps < 0 || p.steps%256 == 0 && p.ctx.Err() != nil {
		return Cancelled
	}
	p.narrow(d)
	if p.hopeless(d) {
		return Failed
	}
	branch := d.left[0]
	p.usedCut[branch] = true
	for _, t := range p.order(d, branch) {
		if out := p.try(t.member, d); out != Failed {
			return out
		}
		d.live.Remove(t.member)
	}
	return Failed
}

// narrow fills in what is live of the open cuts, and sorts them by it.
func (p *picker) narrow(d *depth) {
	before := p.tally // per size: cuts with fewer members, then the place of the next
	clear(before)
	for _, c := range d.left {
		copy(d.narrow[c], p.cuts[c])
		d.narrow[c].Restrict(d.live)
		d.size[c] = d.narrow[c].Len()
		before[d.size[c]+1]++
	}
	for size := range before[1:] {
		before[size+1] += before[size]
	}
	p.unsorted = append(p.unsorted[:0], d.left...)
	for _, c := range p.unsorted {
		at := &before[d.size[c]]
		d.left[*at] = c
		*at++
	}
}

// try goes on with one member more.
func (p *picker) try(i int, from *depth) Result {
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
	d := p.at(p.count)
	copy(d.open, from.open)
	d.open.Subtract(p.hits[i])
	copy(d.live, from.live)
	p.ruleOut(d.live, i)
	out := p.dive()
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

// order are the members of a cut to be tried: those that hit most open cuts first, then
// the lightest. Members in whose place one before serves as well are not tried: what
// they could do, that one could not.
func (p *picker) order(d *depth, branch int) []trial {
	n := 0
	for w, word := range d.narrow[branch] {
		for ; word != 0; word &= word - 1 {
			if n == len(d.trials) {
				d.trials = append(d.trials, trial{cuts: set.New(len(p.cuts))})
			}
			t := &d.trials[n]
			n++
			t.member, t.load = w<<6+bits.TrailingZeros64(word), 0
			copy(t.cuts, d.open)
			t.cuts.Restrict(p.hits[t.member])
			t.hits = t.cuts.Len()
			for s := range p.sums {
				t.load += p.weight[s][t.member]
			}
		}
	}
	all := d.trials[:n]
	slices.SortStableFunc(all, func(a, b trial) int {
		return cmp.Or(cmp.Compare(b.hits, a.hits), cmp.Compare(a.load, b.load))
	})
	best := 0
	for at := range all {
		t := &all[at]
		if slices.ContainsFunc(all[:best], func(b trial) bool {
			return t.cuts.SubsetOf(b.cuts) && p.against[b.member].SubsetOf(p.against[t.member]) && p.lighter(b.member, t.member)
		}) {
			continue
		}
		all[best], *t = *t, all[best]
		best++
	}
	return all[:best]
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
func (p *picker) hopeless(d *depth) bool {
	p.why = p.why[:0]
	clear(p.used)
	for _, c := range d.left {
		if d.narrow[c].Meets(p.used) {
			continue
		}
		p.why = append(p.why, c)
		switch {
		case d.size[c] == 0:
			return p.because(p.why)
		case p.size >= 0 && p.count+len(p.why) > p.size:
			p.usedSize = true
			return p.because(p.why)
		}
		p.used.Unite(d.narrow[c])
	}
	for s := range p.sums {
		if p.overspent(s, d) {
			p.usedSum[s] = true
			return p.because(p.why)
		}
	}
	return false
}

// overspent reports whether cuts, which are then in why, ask for more of a sum than is
// left.
func (p *picker) overspent(s int, d *depth) bool {
	p.why = p.why[:0]
	p.rest = append(p.rest[:0], p.weight[s]...)
	spare := p.sums[s].Most - p.spent[s]
	for _, c := range d.left {
		lightest := math.MaxInt
		for w, word := range d.narrow[c] {
			for ; word != 0; word &= word - 1 {
				lightest = min(lightest, p.rest[w<<6+bits.TrailingZeros64(word)])
			}
		}
		if lightest == 0 {
			continue
		}
		for w, word := range d.narrow[c] {
			for ; word != 0; word &= word - 1 {
				p.rest[w<<6+bits.TrailingZeros64(word)] -= lightest
			}
		}
		p.why = append(p.why, c)
		if spare -= lightest; spare < 0 {
			return true
		}
	}
	return false
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
