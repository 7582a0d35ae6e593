package solver

import (
	"slices"

	"fewtubes/gamut/set"

	"github.com/go-air/gini/z"
)

// literals owns the map between tubes, targets and limits on one side and the
// master's literals on the other. A tube has a literal from its first
// occurrence in a cut or a limit on: no palette needs a tube that occurs in
// none, and the counts stay small.
type literals struct {
	m      *master
	tube   []z.Lit // LitNull: does not occur
	order  []int   // tubes by first occurrence
	count  counter
	miss   []z.Lit // per target: it may be missed; LitNull: it may not
	limits []guard // in the order they were laid down
}

// guard is a literal under which a limit holds.
type guard struct {
	lit   z.Lit
	words string
}

func newLiterals(m *master, tubes, targets int) *literals {
	return &literals{m: m, tube: make([]z.Lit, tubes), miss: make([]z.Lit, targets)}
}

// of is the literal of a tube.
func (l *literals) of(i int) z.Lit {
	if l.tube[i] == z.LitNull {
		l.tube[i] = l.m.lit()
		l.order = append(l.order, i)
		l.count.add(l.tube[i])
	}
	return l.tube[i]
}

// palette reads the tubes of the model.
func (l *literals) palette() set.Set {
	s := set.New(len(l.tube))
	for _, i := range l.order {
		if l.m.holds(l.tube[i]) {
			s.Add(i)
		}
	}
	return s
}

// missed reads which targets the model gives up.
func (l *literals) missed() []bool {
	out := make([]bool, len(l.miss))
	for t, lit := range l.miss {
		out[t] = lit != z.LitNull && l.m.holds(lit)
	}
	return out
}

// limit lays down a limit: under its guard every clause holds.
func (l *literals) limit(words string, clauses ...[]z.Lit) {
	g := l.m.lit()
	l.limits = append(l.limits, guard{g, words})
	for _, c := range clauses {
		l.m.clause(append([]z.Lit{g.Not()}, c...)...)
	}
}

// rules lays down keep and at-most-one; numbers of tubes and budget are bounds
// of a question.
func (l *literals) rules(b *box, r *rules) {
	for _, i := range r.keep.Members() {
		l.limit(keepWords(b.tubes[i].ID), []z.Lit{l.of(i)})
	}
	for g, group := range r.groups {
		var pairs [][]z.Lit
		members := set.Intersection(group, r.allowed).Members()
		for k, i := range members {
			for _, j := range members[:k] {
				pairs = append(pairs, []z.Lit{l.of(j).Not(), l.of(i).Not()})
			}
		}
		l.limit(r.words[g], pairs...)
	}
}

// tubeSum is a weighted sum over the tubes that occur.
type tubeSum struct {
	sum
	weights []int // per tube
	seen    int   // tubes of order already in the sum
}

// atMost is as sum.atMost over every tube that occurs so far.
func (s *tubeSum) atMost(l *literals, bound int) (z.Lit, bool) {
	var lits []z.Lit
	var weights []int
	for _, i := range l.order[s.seen:] {
		if s.weights[i] > 0 {
			lits, weights = append(lits, l.tube[i]), append(weights, s.weights[i])
		}
	}
	s.seen = len(l.order)
	if len(lits) > 0 {
		s.add(l.m, lits, weights)
	}
	return s.sum.atMost(l.m, bound)
}

// of is the sum of the weights of a palette.
func (s *tubeSum) of(palette set.Set) int {
	total := 0
	for _, i := range palette.Members() {
		total += s.weights[i]
	}
	return total
}

// named are the words of the limits whose guards are among the literals.
func named(guards []guard, lits []z.Lit) []string {
	var out []string
	for _, g := range guards {
		if slices.Contains(lits, g.lit) {
			out = append(out, g.words)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
