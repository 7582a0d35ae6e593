package cover

import (
	"cmp"
	"fewtubes/gamut/set"
	"slices"
)

// merits are what members are compared by under one question.
type merits struct {
	members []int     // that stand in a cut or are to be kept, ascending
	cuts    []set.Set // per member: the cuts it stands in
	hits    []int     // how many
	against []set.Set // per member: the groups and blocked palettes it stands in
	sums    []Bound
}

func (c *Cover) merits(q *Question, active []*Cut) *merits {
	n := c.members
	m := &merits{cuts: make([]set.Set, n), hits: make([]int, n), against: make([]set.Set, n), sums: c.sums(q)}
	limits := append(slices.Clone(c.rules.Groups), c.blocked...)
	occur := c.rules.Keep.Clone()
	for _, cut := range active {
		occur = set.Union(occur, cut.OneOf)
	}
	m.members = occur.Members()
	for _, i := range m.members {
		m.cuts[i], m.against[i] = set.New(len(active)), set.New(len(limits))
		for l, held := range limits {
			if held.Has(i) {
				m.against[i].Add(l)
			}
		}
	}
	for at, cut := range active {
		for _, i := range cut.OneOf.Members() {
			m.cuts[i].Add(at)
			m.hits[i]++
		}
	}
	return m
}

// sums are the sums that a question and the rules bound.
func (c *Cover) sums(q *Question) []Bound {
	var out []Bound
	for _, b := range c.bounds() {
		out = append(out, b.Bound)
	}
	return append(out, q.Bounds...)
}

// ruled is a bound that is a limit.
type ruled struct {
	Bound
	limit Limit
}

// bounds are those of the rules.
func (c *Cover) bounds() (out []ruled) {
	if r := c.rules; r.Budgeted {
		out = append(out, ruled{Bound{c.weight, r.Budget}, Limit{Budget, r.Budget}})
	}
	if c.novel != nil {
		out = append(out, ruled{Bound{c.novel, c.rules.NewMost}, Limit{MostNew, c.rules.NewMost}})
	}
	return out
}

// divide parts the members into those that may have to be chosen and those outdone,
// which a palette never needs: some other stands in every cut that they do,
// weighs no more in any sum that is bounded, is in no group and no blocked palette
// that they are not in, and so can take their place in any palette. What holds for
// all cuts here holds for any part of them, so a proof needs no more cuts for it.
// Both are ascending.
func (m *merits) divide(keep set.Set) (best, outdone []int) {
	order := slices.Clone(m.members)
	slices.SortStableFunc(order, func(i, j int) int {
		return cmp.Or(cmp.Compare(m.hits[j], m.hits[i]), cmp.Compare(m.load(i), m.load(j)))
	})
	for _, i := range order {
		if !keep.Has(i) && slices.ContainsFunc(best, func(b int) bool { return m.serves(b, i) }) {
			outdone = append(outdone, i)
		} else {
			best = append(best, i)
		}
	}
	slices.Sort(best)
	slices.Sort(outdone)
	return best, outdone
}

// load is what a member weighs in all sums together.
func (m *merits) load(i int) int {
	total := 0
	for _, b := range m.sums {
		total += b.Sum.weights[i]
	}
	return total
}

// serves reports whether one member can take the place of another.
func (m *merits) serves(i, other int) bool {
	for _, b := range m.sums {
		if b.Sum.weights[i] > b.Sum.weights[other] {
			return false
		}
	}
	return m.cuts[other].SubsetOf(m.cuts[i]) && m.against[i].SubsetOf(m.against[other])
}
