package solver

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"fewtubes/gamut"

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
	loaded  int                     // cuts ever given to the master
	watch   func(palette gamut.Set) // sees every palette the master proposes; may be nil
}

// cut is a clause of the master: under its guard, one of the tubes outside a
// failing set is in the palette.
type cut struct {
	d       *demand
	target  int
	failing int // index in the target's knowledge
	guard   z.Lit
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
func (h *hunt) find(ctx context.Context, q question) (gamut.Set, outcome, error) {
	for {
		for _, d := range h.demands {
			h.load(d)
		}
		out := h.m.solve(ctx, h.assumptions(&q)...)
		if out == failed && !q.unsure {
			return nil, out, h.ensure(ctx)
		}
		if out != satisfied {
			return nil, out, out.err(ctx)
		}
		h.rounds++
		palette, missed := h.lits.palette(), h.lits.missed()
		done, err := h.separate(ctx, palette, missed, q.lits)
		if h.watch != nil {
			h.watch(palette)
		}
		if err != nil || done {
			return palette, satisfied, err
		}
	}
}

// aimed is a target under a demand, and how far the palette stays from it.
type aimed struct {
	d   *demand
	t   int
	far float64 // difference over tolerance; <= 1: reached
}

// atOnce is how many missed targets are explained in a round: the master
// answers in no time, so it is asked again before the rest are worked on, most
// of which the next palette may reach.
const atOnce = 4

// separate looks for cuts that the palette does not hit. It is done when every
// target demanded is reached.
func (h *hunt) separate(ctx context.Context, palette gamut.Set, missed []bool, active []z.Lit) (done bool, err error) {
	left := h.missing(palette, missed, active)
	for len(left) > 0 {
		now := left[:min(atOnce, len(left))]
		left = left[len(now):]
		found := make([]bool, len(now))
		errs := make([]error, len(now))
		each(len(now), func(i int) {
			j := now[i]
			found[i], errs[i] = h.known[j.t].explain(ctx, palette, h.rules.allowed, j.d.tolerance[j.t])
		})
		if err := errors.Join(errs...); err != nil {
			return false, err
		}
		if h.wrong() {
			return false, errRevoked
		}
		if slices.Contains(found, true) {
			if h.pending() == 0 {
				return false, errNoProgress
			}
			return false, nil
		}
	}
	return true, nil
}

// missing are the targets that the palette does not reach at a quick look, the
// farthest first, each once: under the demand that is hardest to meet.
func (h *hunt) missing(palette gamut.Set, missed []bool, active []z.Lit) []aimed {
	hardest := make([]*demand, len(h.known))
	for _, d := range h.demands {
		if d.guard != z.LitNull && !slices.Contains(active, d.guard) {
			continue
		}
		for _, t := range d.targets {
			if d.forgive && missed[t] {
				continue
			}
			if hardest[t] == nil || d.tolerance[t] < hardest[t].tolerance[t] {
				hardest[t] = d
			}
		}
	}
	far := make([]float64, len(h.known))
	each(len(far), func(t int) {
		if d := hardest[t]; d != nil {
			far[t] = h.known[t].distance(palette, d.tolerance[t]) / d.tolerance[t]
		}
	})
	var out []aimed
	for t, d := range hardest {
		if far[t] > 1 {
			out = append(out, aimed{d, t, far[t]})
		}
	}
	slices.SortStableFunc(out, func(a, b aimed) int { return cmp.Compare(b.far, a.far) })
	return out
}

// wrong reports whether a cut of the master no longer holds.
func (h *hunt) wrong() bool {
	return slices.ContainsFunc(h.cuts, func(c cut) bool {
		return h.known[c.target].failings[c.failing].best <= c.d.tolerance[c.target]
	})
}

// ensure searches the cuts behind the last failure at verdict effort.
func (h *hunt) ensure(ctx context.Context) error {
	why := map[z.Lit]bool{}
	for _, l := range h.m.why() {
		why[l] = true
	}
	byTarget := make([][]cut, len(h.known))
	for _, c := range h.cuts {
		if why[c.guard] {
			byTarget[c.target] = append(byTarget[c.target], c)
		}
	}
	each(len(byTarget), func(t int) {
		for _, c := range byTarget[t] {
			if ctx.Err() == nil {
				h.known[t].ensure(c.failing, c.d.tolerance[t])
			}
		}
	})
	if h.wrong() {
		return errRevoked
	}
	return ctx.Err()
}

// explain grows cuts for a target the palette misses: the second from the
// palette and all of the first cut, and so on, so that they are disjoint and
// push the bound up together.
func (k *knowledge) explain(ctx context.Context, palette, domain gamut.Set, tolerance float64) (missing bool, err error) {
	if k.reaches(palette, tolerance, search) {
		return false, nil
	}
	for from := palette; ; {
		cut, ok, err := k.grow(ctx, from, domain, tolerance)
		if err != nil || !ok {
			return missing, err
		}
		missing = true
		needs := minus(domain, cut.set)
		from = union(from, needs)
		if needs.Len() == 0 || k.knownToReach(from, tolerance) {
			return missing, nil
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
			h.cuts = append(h.cuts, cut{d, t, i, guard})
			h.m.clause(append(h.cutClause(d, t, f.set), guard.Not())...)
		}
	}
}

func (h *hunt) cutClause(d *demand, t int, failing gamut.Set) []z.Lit {
	var clause []z.Lit
	if d.guard != z.LitNull {
		clause = append(clause, d.guard.Not())
	}
	if d.forgive && h.lits.miss[t] != z.LitNull {
		clause = append(clause, h.lits.miss[t])
	}
	for _, i := range minus(h.rules.allowed, failing).Members() {
		clause = append(clause, h.lits.of(i))
	}
	return clause
}

// assumptions of a question: the limits, its bounds and its literals.
func (h *hunt) assumptions(q *question) []z.Lit {
	h.asked = append(h.asked[:0], h.lits.limits...)
	if h.rules.budget >= 0 {
		if l, always := h.price.atMost(h.lits, h.rules.budget); !always {
			h.asked = append(h.asked, guard{l, budgetWords(h.rules.budget)})
		}
	}
	size := q.size
	if most := h.rules.maxTubes; most > 0 && (size < 0 || size > most) {
		size = most
	}
	if size >= 0 {
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
func (h *hunt) block(palette gamut.Set, guard z.Lit) {
	clause := []z.Lit{guard.Not()}
	for _, i := range palette.Members() {
		clause = append(clause, h.lits.of(i).Not())
	}
	h.m.clause(clause...)
}
