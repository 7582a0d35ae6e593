package choice

import (
	"context"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// Every choice starts from the same ground: what is known after the same
// question without limits, but for the tubes it is kept to and their number. From
// there it is worked out as if nothing else had ever been asked, so it depends on
// the stakes and its own limits alone; and the ground is most of the way to the
// answer, so a changed limit is quick.

// Chooser makes choices about one list of targets. It serves one goroutine at a time.
type Chooser struct {
	*Stakes
	Grounds []*ground // least recently used first
}

// ground is what is known after a question without limits.
type ground struct {
	only   set.Set // the tubes it is kept to; nil: any
	order  string
	most   int // tubes at most; 0: any number
	core   *Core
	size   int // of the smallest palette; 0: none of at most so many tubes
	opened *Decision
}

// mostGrounds is how many are kept, a few MB each.
const mostGrounds = 4

// serves reports whether the ground for these limits would be just this one: sizes
// are tried upwards, so a larger bound changes nothing once a palette is found.
func (g *ground) serves(only set.Set, order string, most int) bool {
	return g.only.Equal(only) && g.order == order && (g.most == most || g.size > 0 && (most == 0 || most >= g.size))
}

// ground is the one a wish starts from. Where the context ends before it is
// laid, it is what was known by then.
func (c *Chooser) ground(ctx context.Context, w *Wish) (*ground, error) {
	var free []Limit
	var only set.Set
	most := 0
	for _, l := range w.Limits {
		switch l.Kind {
		case Only:
			free, only = append(free, l), l.Tubes
		case MostTubes:
			free, most = append(free, l), l.Most
		}
	}
	for i, g := range c.Grounds {
		if g.serves(only, w.Order.Name, most) {
			c.Grounds = append(append(c.Grounds[:i:i], c.Grounds[i+1:]...), g)
			return g, nil
		}
	}
	g := &ground{only: only, order: w.Order.Name, most: most, core: c.Blank()}
	var err error
	g.opened, err = g.core.decide(ctx, &Wish{Limits: free, Prices: c.Prices, Order: w.Order, Most: 1, opening: true, Watch: w.Watch})
	if err != nil {
		return g, err
	}
	if g.opened.reached {
		g.size = g.opened.Size
	}
	c.Grounds = append(c.Grounds, g)
	c.Grounds = c.Grounds[max(0, len(c.Grounds)-mostGrounds):]
	return g, nil
}

// begun is the best that an unfinished ground offers under the rules of a wish.
func (g *ground) begun(r *cover.Rules) *Decision {
	d := &Decision{Rules: r, Lower: r.Keep.Len()}
	if g.opened == nil || len(g.opened.Reachable) == 0 {
		return d
	}
	d.Reachable, d.Unreachable = g.opened.Reachable, g.opened.Unreachable
	seen := &sighting{c: g.core, h: &Hunt{rules: r}, rules: r, d: d, lower: d.Lower}
	seen.proposed(r.Keep)
	d.interrupted(seen)
	return d
}

// Decide chooses by a wish, from its ground. When the context ends the choice, the
// decision holds what there is by then.
func (c *Chooser) Decide(ctx context.Context, w *Wish) (*Core, *Decision, error) {
	r := c.Rules(w)
	steady := *w
	steady.Watch = w.steadily(r)
	if c.Oracle.Lists() { // what there is to learn is quickly told
		k := c.Blank()
		d, err := k.decide(ctx, &steady)
		return k, d, err
	}
	opening := steady
	opening.Watch = w.opens(steady.Watch)
	g, err := c.ground(ctx, &opening)
	switch {
	case err != nil && ctx.Err() != nil:
		return g.core, g.begun(r), err
	case err != nil:
		return nil, nil, err
	}
	k := g.core.Copy()
	d, err := k.decide(ctx, &steady)
	return k, d, err
}

// steadily reports bounds that only ever close in.
func (w *Wish) steadily(r *cover.Rules) func(Progress) {
	if w.Watch == nil {
		return nil
	}
	var last Progress
	last.AtLeast = r.Keep.Len()
	return func(p Progress) {
		p.AtLeast = max(p.AtLeast, last.AtLeast)
		if last.AtMost > 0 && (p.AtMost == 0 || p.AtMost > last.AtMost) {
			p.AtMost = last.AtMost
		}
		last = p
		w.Watch(p)
	}
}

// opens reports from the ground what holds under the limits too: a lower bound
// where every tube is allowed, a palette where nothing else is limited either.
func (w *Wish) opens(tell func(Progress)) func(Progress) {
	if tell == nil {
		return nil
	}
	has := func(kinds ...Kind) bool {
		return slices.ContainsFunc(w.Limits, func(l Limit) bool { return slices.Contains(kinds, l.Kind) })
	}
	narrowed := has(Forbid)
	limited := narrowed || w.New != nil || has(Budget, Keep, Group)
	return func(p Progress) {
		if narrowed {
			p.AtLeast = 0
		}
		if limited {
			p.AtMost = 0
		}
		tell(p)
	}
}
