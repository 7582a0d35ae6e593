package solver

import (
	"context"
	"slices"

	"fewtubes/solver/cutting"
	"fewtubes/solver/cutting/refute"
)

// Priced is a tube and what it costs a painter who owns some.
type Priced struct {
	ID    string
	Buy   bool // it is not owned
	Price int  // hundredths
}

// Allowed are the tubes that limits allow, in catalogue order.
func (s *Session) Allowed(l *Limits) (out []Priced, err error) {
	r, err := s.index.rules(l)
	if err != nil {
		return nil, err
	}
	owned, err := s.index.find("own", l.Own)
	if err != nil {
		return nil, err
	}
	buy := s.index.toBuy(owned)
	for _, i := range r.Allowed.Members() {
		out = append(out, Priced{s.index.id(i), buy.Has(i), r.Weights[i]})
	}
	return out, nil
}

// Count is a proof of a minimum by counting: no tube answers needs that count for
// more than MostOfOne together, so that fewer tubes than the minimum come to less
// than Sum, what all the needs count for.
type Count struct {
	Needs     []Need
	Times     []int // each need counts so often, >= 1
	MostOfOne int
	Sum       int
}

// CountNeeds counts the needs of an answer, one of Choose; nil where counting does not
// prove the minimum. It gives up with the context's error.
func CountNeeds(ctx context.Context, a *Answer) (*Count, error) {
	if len(a.Needs) == 0 {
		return nil, nil
	}
	var ids []string
	for _, n := range a.Needs {
		ids = append(ids, n.OneOf...)
	}
	ids = distinct(ids)
	f := &cutting.Formula{Variables: len(ids)}
	for _, n := range a.Needs {
		c := cutting.Constraint{AtLeast: 1}
		for _, id := range n.OneOf {
			at, _ := slices.BinarySearch(ids, id)
			c.Terms = append(c.Terms, cutting.Term{Times: 1, Variable: at + 1})
		}
		f.Constraints = append(f.Constraints, c)
	}
	fewer := cutting.Constraint{AtLeast: 1 - a.Minimum.Tubes}
	for v := range ids {
		fewer.Terms = append(fewer.Terms, cutting.Term{Times: -1, Variable: v + 1})
	}
	f.Constraints = append(f.Constraints, fewer)
	m, err := refute.Count(ctx, f)
	if m == nil || err != nil || m.Most == 0 {
		return nil, err
	}
	out := &Count{MostOfOne: m.Most, Sum: m.Sum}
	for i, n := range a.Needs {
		if m.Times[i] > 0 {
			out.Needs, out.Times = append(out.Needs, n), append(out.Times, m.Times[i])
		}
	}
	return out, nil
}
