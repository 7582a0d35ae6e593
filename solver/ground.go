package solver

import (
	"context"
	"slices"
	"strings"
)

// Every choice starts from the same ground: what is known after the same
// question without limits, but for the tubes it is kept to (Limits.Only) and
// their number. From there it is worked out as if nothing else had ever been
// asked, so it depends on the problem and its own limits alone; and the ground is
// most of the way to the answer, so a changed limit is quick.

// ground is what is known after a question without limits.
type ground struct {
	key    groundKey
	most   int // tubes at most; 0: any number
	core   *core
	size   int // of the smallest palette; 0: none of at most so many tubes
	opened *decision
}

type groundKey struct {
	only   string
	prefer Preference
}

// mostGrounds is how many are kept, a few MB each.
const mostGrounds = 4

// serves reports whether the ground for this many tubes at most would be just
// this one: sizes are tried upwards, so a larger bound changes nothing once a
// palette is found.
func (g *ground) serves(key groundKey, most int) bool {
	return g.key == key && (g.most == most || g.size > 0 && (most == 0 || most >= g.size))
}

// ground is the one a wish starts from. Where the context ends before it is
// laid, it is what was known by then.
func (s *Session) ground(ctx context.Context, w *wish) (*ground, error) {
	only := slices.Clone(w.limits.Only)
	slices.Sort(only)
	key := groundKey{strings.Join(slices.Compact(only), "\n"), w.prefer}
	for i, g := range s.grounds {
		if g.serves(key, w.limits.MaxTubes) {
			s.grounds = append(append(s.grounds[:i:i], s.grounds[i+1:]...), g)
			return g, nil
		}
	}
	g := &ground{key: key, most: w.limits.MaxTubes, core: s.blank()}
	free := Limits{Only: w.limits.Only, MaxTubes: w.limits.MaxTubes}
	var err error
	g.opened, err = g.core.decide(ctx, &wish{limits: free, prefer: w.prefer, most: 1, opening: true, watch: w.watch})
	if err != nil {
		return g, err
	}
	if g.opened.reached {
		g.size = g.opened.size
	}
	s.grounds = append(s.grounds, g)
	s.grounds = s.grounds[max(0, len(s.grounds)-mostGrounds):]
	return g, nil
}

// blank is a core that knows nothing yet.
func (s *Session) blank() *core {
	var tolerance, area []float64
	for _, t := range s.problem.Targets {
		tolerance, area = append(tolerance, t.Tolerance), append(area, t.Area)
	}
	return newCore(s.box, s.oracle, tolerance, area)
}

// copied is a core that knows the same and learns by itself.
func (c *core) copied() *core {
	out := newCore(c.box, nil, c.tolerance, c.area)
	for t, k := range c.known {
		*out.known[t] = k.copied()
	}
	return out
}

// begun is the best that an unfinished ground offers under the rules of a wish.
func (g *ground) begun(r *rules) *decision {
	d := &decision{rules: r, lower: r.keep.Len()}
	if g.opened == nil || len(g.opened.reachable) == 0 {
		return d
	}
	d.reachable, d.unreachable = g.opened.reachable, g.opened.unreachable
	seen := &sighting{c: g.core, h: &hunt{rules: r}, d: d, lower: d.lower}
	seen.proposed(r.keep)
	d.interrupted(seen)
	return d
}

// decide chooses by a wish, from its ground.
func (s *Session) decide(ctx context.Context, w *wish) (*core, *decision, error) {
	r, err := s.box.rules(&w.limits)
	if err != nil {
		return nil, nil, err
	}
	steady := *w
	steady.watch = w.steadily(r)
	if s.oracle.lists() { // all there is to learn is in the lists
		c := s.blank()
		d, err := c.decide(ctx, &steady)
		return c, d, err
	}
	opening := steady
	opening.watch = w.opens(steady.watch)
	g, err := s.ground(ctx, &opening)
	switch {
	case err != nil && ctx.Err() != nil:
		return g.core, g.begun(r), err
	case err != nil:
		return nil, nil, err
	}
	c := g.core.copied()
	d, err := c.decide(ctx, &steady)
	return c, d, err
}

// steadily reports bounds that only ever close in.
func (w *wish) steadily(r *rules) func(Progress) {
	if w.watch == nil {
		return nil
	}
	var last Progress
	last.AtLeast = r.keep.Len()
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
	l := &w.limits
	narrowed := len(l.Avoid)+len(l.Never) > 0
	limited := narrowed || l.Budget.bounded || len(l.Keep)+len(l.AtMostOne) > 0
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
