package cover

import (
	"context"
	"slices"

	"fewtubes/gamut/set"

	"github.com/go-air/gini/z"
)

// Cover is a growing list of cuts under rules. Cuts and questions must come in a
// deterministic order, then so do the palettes.
type Cover struct {
	Few bool // there are few cuts, so that the SAT solver is mostly quicker

	rules   *Rules
	members int
	m       *master
	lits    *literals
	weight  *Sum // the weights of the rules
	novel   *Sum // counts the new; nil: the rules do not bound them
	waivers bool // some cause may be waived
	cuts    []*Cut
	blocked []set.Set
	uses    *Uses
	quick   engine
	sure    engine
	last    reply
}

// Switch turns on cuts and blocked palettes for the questions that name it; the
// zero value is always on.
type Switch z.Lit

// Cut says that one of some members is in the palette.
type Cut struct {
	OneOf    set.Set
	Under    Switch
	Cause    int
	Waivable bool // not to be hit where the cause is waived

	guard  z.Lit
	poured bool // the SAT solver has it
}

// Question bounds the palette asked for.
type Question struct {
	Size   int // members at most; < 0: any number
	Bounds []Bound
	On     []Switch
	Unsure bool // no proof rests on a failure
}

// Bound is a weighted sum and the most it may come to.
type Bound struct {
	Sum  *Sum
	Most int
}

// engine answers a question from the cuts that bind under it. Cancelled says that
// it came to no end.
type engine interface {
	ask(ctx context.Context, q *Question, active []*Cut) reply
}

// reply is what an engine says.
type reply struct {
	out     Result
	palette set.Set // where satisfied
	waived  []bool  // causes, there
	cuts    []*Cut  // that rule every palette out, where failed; not minimal
	limits  []Limit // together with these
}

// New is a cover of members 0..members-1 without cuts; causes are 0..causes-1. What
// the engines are asked is added to uses.
func New(rules *Rules, members, causes int, uses *Uses) *Cover {
	m := newMaster()
	c := &Cover{
		rules: rules, members: members, m: m, uses: uses,
		lits:   newLiterals(m, members, causes),
		weight: NewSum(rules.Weights),
	}
	c.lits.rules(rules)
	if rules.New != nil {
		c.novel = NewCount(rules.New, members)
	}
	c.quick, c.sure = timed{searcher{c}, &uses.Search}, timed{prover{c}, &uses.SAT}
	return c
}

// Weight is the sum of the rules' weights.
func (c *Cover) Weight() *Sum { return c.weight }

// Switch is a new switch.
func (c *Cover) Switch() Switch { return Switch(c.m.lit()) }

// Add gives the cover a cut, which it keeps.
func (c *Cover) Add(cut *Cut) {
	cut.guard = c.m.lit()
	c.cuts = append(c.cuts, cut)
}

// Drop takes back all cuts under a switch.
func (c *Cover) Drop(s Switch) {
	if s == Switch(z.LitNull) {
		panic("cover: cuts under no switch cannot be dropped")
	}
	c.cuts = slices.DeleteFunc(c.cuts, func(cut *Cut) bool { return cut.Under == s })
}

// Block forbids, under a switch, a palette and everything that holds it.
func (c *Cover) Block(palette set.Set, s Switch) {
	c.blocked = append(c.blocked, palette)
	clause := []z.Lit{z.Lit(s).Not()}
	for _, i := range palette.Members() {
		clause = append(clause, c.lits.of(i).Not())
	}
	c.m.clause(clause...)
}

// Ask looks for a palette that hits every cut and answers the question, and tells
// which causes it leaves waived (nil: none). It is cancelled when the context ends.
//
// The search of our own is asked first, since it is quick, but where causes may be
// waived, or where preferSAT says so. The SAT solver is asked there, and
// where the search comes to no end; and it decides every minimum: a "no" of the
// search to a question that bounds the number of members alone stands only when the
// SAT solver says "no" to the same cuts.
func (c *Cover) Ask(ctx context.Context, q *Question) (palette set.Set, waived []bool, out Result) {
	c.last = c.answer(ctx, q, c.active(q))
	return c.last.palette, c.last.waived, c.last.out
}

func (c *Cover) answer(ctx context.Context, q *Question, active []*Cut) reply {
	if !c.waivers && !c.preferSAT(q) {
		r := c.quick.ask(ctx, q, active)
		switch {
		case r.out == Satisfied || ctx.Err() != nil:
			return r
		case r.out == Failed && (!q.decides() || c.sure.ask(ctx, q, r.cuts).out == Failed):
			return r
		}
	}
	return c.sure.ask(ctx, q, active)
}

// preferSAT reports whether a question is one for the SAT solver from the first:
// cuts are few, and no sum is bounded, or a palette below a sum is looked for, not
// proven to be the lightest. (Measured where three paints mix: to look at tight
// levels, with a thousand cuts, it takes a third of the time; to prove a lowest
// price four times as long.)
func (c *Cover) preferSAT(q *Question) bool {
	return c.Few && (len(c.sums(q)) == 0 || q.Unsure && len(q.Bounds) > 0)
}

// decides reports whether the answer to a question decides a minimum.
func (q *Question) decides() bool { return len(q.On)+len(q.Bounds) == 0 }

// Why are the cuts that the last failure rests on, together with the limits of
// Blame; not minimal.
func (c *Cover) Why() []*Cut { return c.last.cuts }

// Spare leaves cuts out of Why that the failure of a question, the last one asked, does
// not need, until none of them can be spared.
func (c *Cover) Spare(ctx context.Context, q *Question) {
	for i := 0; i < len(c.last.cuts); {
		if r := c.sure.ask(ctx, q, slices.Delete(slices.Clone(c.last.cuts), i, i+1)); r.out == Failed {
			c.last = r // those before i are needed whatever is left out after them
			continue
		}
		i++
	}
}

// Blame are the limits of the last question that cannot hold together with the
// cuts; not minimal.
func (c *Cover) Blame() []Limit { return c.last.limits }

// active are the cuts that bind under a question.
func (c *Cover) active(q *Question) []*Cut {
	var out []*Cut
	for _, cut := range c.cuts {
		if cut.Under == Switch(z.LitNull) || slices.Contains(q.On, cut.Under) {
			out = append(out, cut)
		}
	}
	return out
}

// most is how many members a question and the rules allow; < 0: any number.
func (c *Cover) most(q *Question) int {
	if most := c.rules.Most; most > 0 && (q.Size < 0 || q.Size > most) {
		return most
	}
	return q.Size
}
