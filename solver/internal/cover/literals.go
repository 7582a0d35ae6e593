package cover

import (
	"fewtubes/gamut/set"

	"github.com/go-air/gini/z"
)

// literals owns the map between members, causes and limits on one side and the
// master's literals on the other. A member has a literal from its first
// occurrence in a cut or a limit on: no palette needs one that occurs in none, and
// the counts stay small.
type literals struct {
	m      *master
	member []z.Lit // LitNull: does not occur
	order  []int   // members by first occurrence
	count  counter
	waiver []z.Lit // per cause: it is waived; LitNull: it cannot be
	limits []guard // in the order they were laid down
}

// guard is a literal under which a limit holds.
type guard struct {
	lit   z.Lit
	limit Limit
}

func newLiterals(m *master, members, causes int) *literals {
	return &literals{m: m, member: make([]z.Lit, members), waiver: make([]z.Lit, causes)}
}

// of is the literal of a member.
func (l *literals) of(i int) z.Lit {
	if l.member[i] == z.LitNull {
		l.member[i] = l.m.lit()
		l.order = append(l.order, i)
		l.count.add(l.member[i], 1)
	}
	return l.member[i]
}

// palette reads the members of the model.
func (l *literals) palette() set.Set {
	s := set.New(len(l.member))
	for _, i := range l.order {
		if l.m.holds(l.member[i]) {
			s.Add(i)
		}
	}
	return s
}

// waived reads which causes the model gives up.
func (l *literals) waived() []bool {
	out := make([]bool, len(l.waiver))
	for t, lit := range l.waiver {
		out[t] = lit != z.LitNull && l.m.holds(lit)
	}
	return out
}

// limit lays down a limit: under its guard every clause holds.
func (l *literals) limit(limit Limit, clauses ...[]z.Lit) {
	g := l.m.lit()
	l.limits = append(l.limits, guard{g, limit})
	for _, c := range clauses {
		l.m.clause(append([]z.Lit{g.Not()}, c...)...)
	}
}

// rules lays down keep and at-most-one; numbers of members and sums are bounds of
// a question.
func (l *literals) rules(r *Rules) {
	for _, i := range r.Keep.Members() {
		l.limit(Limit{Keep, i}, []z.Lit{l.of(i)})
	}
	for g, group := range r.Groups {
		var pairs [][]z.Lit
		members := set.Intersection(group, r.Allowed).Members()
		for k, i := range members {
			for _, j := range members[:k] {
				pairs = append(pairs, []z.Lit{l.of(j).Not(), l.of(i).Not()})
			}
		}
		l.limit(Limit{Group, g}, pairs...)
	}
}
