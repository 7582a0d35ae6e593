package solver

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

// chooser makes choices about one list of targets. It serves one goroutine at a time.
type chooser struct {
	*stakes
	grounds []*ground // least recently used first
}

// ground is what is known after a question without limits.
type ground struct {
	only   set.Set // the tubes it is kept to; nil: any
	order  string
	most   int // tubes at most; 0: any number
	core   *core
	size   int // of the smallest palette; 0: none of at most so many tubes
	opened *decision
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
func (c *chooser) ground(ctx context.Context, w *wish) (*ground, error) {
	var free []limit
	var only set.Set
	most := 0
	for _, l := range w.limits {
		switch l.kind {
		case limitOnly:
			free, only = append(free, l), l.tubes
		case limitSize:
			free, most = append(free, l), l.most
		}
	}
	for i, g := range c.grounds {
		if g.serves(only, w.order.name, most) {
			c.grounds = append(append(c.grounds[:i:i], c.grounds[i+1:]...), g)
			return g, nil
		}
	}
	g := &ground{only: only, order: w.order.name, most: most, core: c.blank()}
	var err error
	g.opened, err = g.core.decide(ctx, &wish{limits: free, prices: c.prices, order: w.order, most: 1, opening: true, watch: w.watch})
	if err != nil {
		return g, err
	}
	if g.opened.reached {
		g.size = g.opened.size
	}
	c.grounds = append(c.grounds, g)
	c.grounds = c.grounds[max(0, len(c.grounds)-mostGrounds):]
	return g, nil
}

// begun is the best that an unfinished ground offers under the rules of a wish.
func (g *ground) begun(r *cover.Rules) *decision {
	d := &decision{rules: r, lower: r.Keep.Len()}
	if g.opened == nil || len(g.opened.reachable) == 0 {
		return d
	}
	d.reachable, d.unreachable = g.opened.reachable, g.opened.unreachable
	seen := &sighting{c: g.core, h: &hunt{rules: r}, d: d, lower: d.lower}
	seen.proposed(r.Keep)
	d.interrupted(seen)
	return d
}

// decide chooses by a wish, from its ground. When the context ends the choice, the
// decision holds what there is by then.
func (c *chooser) decide(ctx context.Context, w *wish) (*core, *decision, error) {
	r := c.rules(w)
	steady := *w
	steady.watch = w.steadily(r)
	opening := steady
	opening.watch = w.opens(steady.watch)
	g, err := c.ground(ctx, &opening)
	switch {
	case err != nil && ctx.Err() != nil:
		return g.core, g.begun(r), err
	case err != nil:
		return nil, nil, err
	}
	k := g.core.copied()
	d, err := k.decide(ctx, &steady)
	return k, d, err
}

// steadily reports bounds that only ever close in.
func (w *wish) steadily(r *cover.Rules) func(Progress) {
	if w.watch == nil {
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
		w.watch(p)
	}
}

// opens reports from the ground what holds under the limits too: a lower bound
// where every tube is allowed, a palette where nothing else is limited either.
func (w *wish) opens(tell func(Progress)) func(Progress) {
	if tell == nil {
		return nil
	}
	has := func(kinds ...limitKind) bool {
		return slices.ContainsFunc(w.limits, func(l limit) bool { return slices.Contains(kinds, l.kind) })
	}
	narrowed := has(limitForbid)
	limited := narrowed || has(limitBudget, limitKeep, limitGroup)
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
