package solver

import (
	"context"
	"errors"

	"fewtubes/gamut/set"

	"github.com/go-air/gini/z"
)

// hunt is one run of the implicit hitting set under one set of limits.
type hunt struct {
	box     *box
	known   []*knowledge // per target
	rules   *rules
	m       *master
	lits    *literals
	price   *tubeSum
	demands []*demand
	asked   []guard // of the last question
	rounds  int
	cuts    []cut
	blocked []set.Set
	loaded  int                   // cuts ever given to the master
	watch   func(palette set.Set) // sees every palette the master proposes; may be nil
}

// cut is a clause of the master: under its guard, one of the tubes outside a
// failing set is in the palette.
type cut struct {
	d       *demand
	target  int
	failing int // index in the target's knowledge
	guard   z.Lit
	oneOf   set.Set // the tubes
	poured  bool    // the SAT solver has it
}

// errRevoked says that a cut already in the master was found wrong: the hunt
// has to start again with what is known now.
var errRevoked = errors.New("solver: a cut was revoked")

var errNoProgress = errors.New("solver: internal: a palette misses a target that no new cut explains")

// demand is a list of targets to reach, each within its tolerance.
type demand struct {
	targets   []int
	tolerance []float64 // per target of the problem
	guard     z.Lit     // the demand holds under this literal; LitNull: always
	forgive   bool      // targets with a miss literal may be missed
	loaded    [][]bool  // per target, per failing set: its clause is in the master
}

// question bounds the palette asked for.
type question struct {
	size   int // tubes at most; < 0: any number
	bounds []bound
	lits   []z.Lit
	unsure bool // no proof rests on a failure
}

// bound is a weighted sum and the most it may come to.
type bound struct {
	sum  *tubeSum
	most int
}

func newHunt(b *box, known []*knowledge, r *rules) *hunt {
	m := newMaster()
	h := &hunt{
		box: b, known: known, rules: r, m: m,
		lits:  newLiterals(m, len(b.tubes), len(known)),
		price: &tubeSum{weights: r.prices},
	}
	h.lits.rules(b, r)
	return h
}

// demand adds targets to reach.
func (h *hunt) demand(d *demand) *demand {
	d.loaded = make([][]bool, len(h.known))
	h.demands = append(h.demands, d)
	return d
}

// find is a palette within the limits and the question that reaches every
// target demanded: the master proposes, the mixer is asked, and the cuts that
// explain a miss go back to the master.
func (h *hunt) find(ctx context.Context, q question) (set.Set, outcome, error) {
	for {
		for _, d := range h.demands {
			h.load(d)
		}
		palette, missed, out := h.propose(ctx, &q)
		if out == failed && !q.unsure {
			return nil, out, h.ensure(ctx)
		}
		if out != satisfied {
			return nil, out, out.err(ctx)
		}
		h.rounds++
		done, err := h.separate(ctx, palette, missed, q.lits)
		if h.watch != nil {
			h.watch(palette)
		}
		if err != nil || done {
			return palette, satisfied, err
		}
	}
}

// pending counts the cuts that load would add.
func (h *hunt) pending() int {
	n := 0
	for _, d := range h.demands {
		for _, t := range d.targets {
			for i, f := range h.known[t].failings {
				if f.best > d.tolerance[t] && (i >= len(d.loaded[t]) || !d.loaded[t][i]) {
					n++
				}
			}
		}
	}
	return n
}

// load gives the master every known cut that holds at the demand's tolerances.
func (h *hunt) load(d *demand) {
	for _, t := range d.targets {
		for i, f := range h.known[t].failings {
			if i == len(d.loaded[t]) {
				d.loaded[t] = append(d.loaded[t], false)
			}
			if d.loaded[t][i] || f.best <= d.tolerance[t] {
				continue
			}
			d.loaded[t][i] = true
			h.loaded++
			guard := h.m.lit()
			oneOf := set.Minus(h.rules.allowed, f.set)
			h.cuts = append(h.cuts, cut{d: d, target: t, failing: i, guard: guard, oneOf: oneOf})
		}
	}
}

func (h *hunt) cutClause(c *cut) []z.Lit {
	var clause []z.Lit
	if c.d.guard != z.LitNull {
		clause = append(clause, c.d.guard.Not())
	}
	if c.d.forgive && h.lits.miss[c.target] != z.LitNull {
		clause = append(clause, h.lits.miss[c.target])
	}
	for _, i := range c.oneOf.Members() {
		clause = append(clause, h.lits.of(i))
	}
	return clause
}

// most is how many tubes a question and the limits allow; < 0: any number.
func (h *hunt) most(q *question) int {
	if most := h.rules.maxTubes; most > 0 && (q.size < 0 || q.size > most) {
		return most
	}
	return q.size
}

// assumptions of a question: the limits, its bounds and its literals.
func (h *hunt) assumptions(q *question) []z.Lit {
	h.asked = append(h.asked[:0], h.lits.limits...)
	if most, bounded := h.rules.budget.Most(); bounded {
		if l, always := h.price.atMost(h.lits, most); !always {
			h.asked = append(h.asked, guard{l, budgetWords(most)})
		}
	}
	if size := h.most(q); size >= 0 {
		if l, always := h.lits.count.atMost(h.m, size); !always {
			h.asked = append(h.asked, guard{l, maxTubesWords(size)})
		}
	}
	var out []z.Lit
	for _, g := range h.asked {
		out = append(out, g.lit)
	}
	for _, b := range q.bounds {
		if l, always := b.sum.atMost(h.lits, b.most); !always {
			out = append(out, l)
		}
	}
	out = append(out, q.lits...)
	for _, c := range h.cuts {
		out = append(out, c.guard)
	}
	return out
}

// blame names the limits of the last question that cannot hold together with
// the demands; not minimal.
func (h *hunt) blame() []string { return named(h.asked, h.m.why()) }

// block forbids a palette and everything that holds it.
func (h *hunt) block(palette set.Set, guard z.Lit) {
	h.blocked = append(h.blocked, palette)
	clause := []z.Lit{guard.Not()}
	for _, i := range palette.Members() {
		clause = append(clause, h.lits.of(i).Not())
	}
	h.m.clause(clause...)
}
