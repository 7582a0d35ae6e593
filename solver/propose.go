package solver

import (
	"context"
	"slices"

	"fewtubes/gamut/set"

	"github.com/go-air/gini/z"
)

// propose finds a palette that hits every cut known and answers the question. A
// picker does so where every cut has to be hit; where targets may be missed at a
// price, or the picker does not come to an end, the SAT solver does.
func (h *hunt) propose(ctx context.Context, q *question) (palette set.Set, missed []bool, out outcome) {
	if ctx.Err() != nil {
		return nil, nil, cancelled
	}
	active := h.active(q)
	if !slices.ContainsFunc(h.demands, func(d *demand) bool { return d.forgive }) {
		p, of := h.newPicker(q, active)
		switch out := p.pick(ctx); out {
		case satisfied:
			palette = set.New(len(h.lits.tube))
			for _, i := range p.chosen.Members() {
				palette.Add(p.tubes[i])
			}
			return palette, nil, out
		case failed:
			h.m.fail(h.reasons(q, p, active, of))
			return nil, nil, out
		}
		if ctx.Err() != nil {
			return nil, nil, cancelled
		}
	}
	h.pour()
	assume := h.assumptions(q)
	_, outdone := h.rank(q, active).part(h.rules.keep)
	for _, tube := range outdone {
		assume = append(assume, h.lits.of(tube).Not())
	}
	if out = h.m.solve(ctx, assume...); out == satisfied {
		palette, missed = h.lits.palette(), h.lits.missed()
	}
	return palette, missed, out
}

// reasons are the guards of what a picker's failure rests on.
func (h *hunt) reasons(q *question, p *picker, active []*cut, of []int) []z.Lit {
	var why []z.Lit
	for c, used := range p.usedCut {
		if used {
			why = append(why, active[of[c]].guard)
		}
	}
	h.asked = append(h.asked[:0], h.lits.limits...)
	if most, bounded := h.rules.budget.Most(); bounded && p.usedSum[0] {
		h.asked = append(h.asked, guard{h.m.lit(), budgetWords(most)})
	}
	if p.usedSize {
		h.asked = append(h.asked, guard{h.m.lit(), maxTubesWords(h.most(q))})
	}
	for _, g := range h.asked {
		why = append(why, g.lit)
	}
	return why
}

// active are the cuts that bind under a question.
func (h *hunt) active(q *question) []*cut {
	var out []*cut
	for i := range h.cuts {
		c := &h.cuts[i]
		if c.d.guard == z.LitNull || slices.Contains(q.lits, c.d.guard) {
			out = append(out, c)
		}
	}
	return out
}

// pour gives the SAT solver the cuts it does not have yet.
func (h *hunt) pour() {
	for i := range h.cuts {
		if c := &h.cuts[i]; !c.poured {
			c.poured = true
			h.m.clause(append(h.cutClause(c), c.guard.Not())...)
		}
	}
}
