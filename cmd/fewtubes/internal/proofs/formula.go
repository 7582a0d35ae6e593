package proofs

import (
	"fmt"
	"strings"

	"fewtubes/solver/cutting"
)

// Formula is the covering argument for the minimum at place k: a palette meets every
// need for it, keeps the limits and the minima before it, and comes to less. Variable
// i+1 is the tube at place i.
func (s *Statement) Formula(k int) *cutting.Formula {
	f := &cutting.Formula{Variables: len(s.Tubes)}
	add := func(note string, atLeast int, tubes []int, times func(i int) int) {
		c := cutting.Constraint{Note: note, AtLeast: atLeast}
		for _, i := range tubes {
			if n := times(i); n != 0 {
				c.Terms = append(c.Terms, cutting.Term{Times: n, Variable: i + 1})
			}
		}
		f.Constraints = append(f.Constraints, c)
	}
	plus, minus := func(int) int { return 1 }, func(int) int { return -1 }
	for i := range s.Needs {
		n := &s.Needs[i]
		if n.For != k {
			continue
		}
		add("need "+fmt.Sprint(i+1)+", of colour "+fmt.Sprint(n.Colour+1), 1, n.OneOf, plus)
	}
	l := &s.Limits
	if l.Most > 0 {
		add(fmt.Sprintf("at most %d tubes", l.Most), -l.Most, s.every(), minus)
	}
	if l.Budgeted {
		add("the budget", -l.Budget, s.every(), func(i int) int { return -s.Tubes[i].Price })
	}
	for _, i := range l.Keep {
		add("keep "+s.Tubes[i].ID, 1, []int{i}, plus)
	}
	for _, group := range l.Groups {
		add("at most one of "+strings.Join(s.IDs(group), ", "), -1, group, minus)
	}
	atMost := func(note string, m Minimum, most int) {
		add(note, -most, s.every(), func(i int) int { return -minimised[m.What].weighs(&s.Tubes[i]) })
	}
	for _, m := range s.Minima[:k] {
		atMost("at most "+m.String(), m, m.Least)
	}
	m := s.Minima[k]
	atMost("less than "+m.String(), m, m.Least-1)
	return f
}

// IDs name some tubes.
func (s *Statement) IDs(tubes []int) (out []string) {
	for _, i := range tubes {
		out = append(out, s.Tubes[i].ID)
	}
	return out
}
