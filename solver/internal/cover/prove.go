package cover

import (
	"context"
	"slices"

	"github.com/go-air/gini/z"
)

// prover is the SAT solver as an engine.
type prover struct{ *Cover }

func (p prover) ask(ctx context.Context, q *Question, active []*Cut) reply {
	if ctx.Err() != nil {
		return reply{out: Cancelled}
	}
	p.pour(active)
	asked, assume := p.assumptions(q, active)
	_, outdone := p.merits(q, active).divide(p.rules.Keep)
	for _, i := range outdone {
		assume = append(assume, p.lits.of(i).Not())
	}
	r := reply{out: p.m.solve(ctx, assume...)}
	switch r.out {
	case Satisfied:
		r.palette, r.waived = p.lits.palette(), p.lits.waived()
	case Failed:
		why := p.m.why()
		for _, cut := range active {
			if slices.Contains(why, cut.guard) {
				r.cuts = append(r.cuts, cut)
			}
		}
		for _, g := range asked {
			if slices.Contains(why, g.lit) {
				r.limits = append(r.limits, g.limit)
			}
		}
	}
	return r
}

// pour gives the SAT solver those of some cuts that it does not have yet.
func (p prover) pour(cuts []*Cut) {
	for _, c := range cuts {
		if c.poured {
			continue
		}
		c.poured = true
		var clause []z.Lit
		if c.Under != Switch(z.LitNull) {
			clause = append(clause, z.Lit(c.Under).Not())
		}
		if w := p.lits.waiver[c.Cause]; c.Waivable && w != z.LitNull {
			clause = append(clause, w)
		}
		for _, i := range c.OneOf.Members() {
			clause = append(clause, p.lits.of(i))
		}
		p.m.clause(append(clause, c.guard.Not())...)
	}
}

// assumptions of a question: the limits, which are also asked by themselves, its
// bounds, its switches and the cuts.
func (p prover) assumptions(q *Question, active []*Cut) (asked []guard, all []z.Lit) {
	asked = slices.Clone(p.lits.limits)
	for _, b := range p.bounds() {
		if l, always := b.Sum.atMost(p.lits, b.Most); !always {
			asked = append(asked, guard{l, b.limit})
		}
	}
	if r := p.rules; r.Budgeted {
		if l, always := p.lits.count.atMost(p.m, r.affordable()); !always { // follows, and is seen sooner
			asked = append(asked, guard{l, Limit{Budget, r.Budget}})
		}
	}
	if size := p.most(q); size >= 0 {
		if l, always := p.lits.count.atMost(p.m, size); !always {
			asked = append(asked, guard{l, Limit{Most, size}})
		}
	}
	for _, g := range asked {
		all = append(all, g.lit)
	}
	for _, b := range q.Bounds {
		if l, always := b.Sum.atMost(p.lits, b.Most); !always {
			all = append(all, l)
		}
	}
	for _, s := range q.On {
		all = append(all, z.Lit(s))
	}
	for _, c := range active {
		all = append(all, c.guard)
	}
	return asked, all
}
