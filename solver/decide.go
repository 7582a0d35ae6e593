package solver

import (
	"cmp"
	"context"
	"errors"
	"fewtubes/gamut/set"
	"slices"
)

// core is the choice over indices: everything but words, recipes and colours.
type core struct {
	box       *box
	known     []*knowledge // per target
	tolerance []float64
	area      []float64
}

func newCore(b *box, o oracle, tolerance, area []float64) *core {
	c := &core{box: b, tolerance: tolerance, area: area}
	for t := range tolerance {
		c.known = append(c.known, &knowledge{o: o, target: t, tubes: len(b.tubes)})
	}
	return c
}

// decision is a choice over indices.
type decision struct {
	rules       *rules
	reachable   []int // targets within reach of every allowed tube together
	unreachable []int
	reached     bool // the palettes reach every reachable target
	size        int
	palettes    []set.Set // best first
	smaller     set.Set   // where targets are missed: misses as little with fewer tubes; nil: none does
	capped      bool
	needs       []need
	conflict    []string
	rounds      int
	cuts        int
	lower       int // when cut short: no palette has fewer tubes
}

// wish is what to choose by.
type wish struct {
	limits Limits
	prefer Preference
	most   int // palettes listed
	watch  func(Progress)

	opening bool // where the targets cannot all be reached, leave it at that
	whole   bool // of no use in part: when the context ends, nothing is finished
}

// decide chooses. It starts again, knowing more, when a cut proves wrong.
func (c *core) decide(ctx context.Context, w *wish) (*decision, error) {
	r, err := c.box.rules(&w.limits)
	if err != nil {
		return nil, err
	}
	for {
		d, err := c.attempt(ctx, r, w)
		if !errors.Is(err, errRevoked) {
			return d, err
		}
	}
}

func (c *core) attempt(ctx context.Context, r *rules, w *wish) (*decision, error) {
	d := &decision{rules: r}
	if err := c.partTargets(ctx, d); err != nil {
		return d, err
	}
	h := newHunt(c.box, c.known, r)
	h.demand(&demand{targets: d.reachable, tolerance: c.tolerance})
	seen := c.watching(h, d, w.watch)
	defer func() { d.rounds, d.cuts = d.rounds+h.rounds, d.cuts+h.loaded }()
	smallest, blame, err := h.smallest(ctx, seen)
	switch {
	case err != nil:
		d.interrupted(seen)
		return d, err
	case smallest == nil && w.opening:
		return d, nil
	case smallest == nil:
		return d, c.missLeast(ctx, d, w, blame)
	case smallest.Len() == 0:
		return d, c.fallBack(ctx, d, h)
	}
	d.reached, d.size = true, smallest.Len()
	if err := c.list(ctx, h, d, w, smallest); err != nil {
		d.interrupted(seen)
		return d, err
	}
	d.needs, err = c.needs(ctx, d)
	return d, err
}

// partTargets sets aside what is beyond every allowed tube together.
func (c *core) partTargets(ctx context.Context, d *decision) error {
	errs := make([]error, len(c.known))
	beyond := make([]bool, len(c.known))
	all := d.rules.allowed
	each(len(c.known), func(t int) {
		beyond[t], errs[t] = c.known[t].surelyMisses(ctx, all, c.tolerance[t])
	})
	for t := range c.known {
		if beyond[t] {
			d.unreachable = append(d.unreachable, t)
		} else {
			d.reachable = append(d.reachable, t)
		}
	}
	return cmp.Or(errs...)
}

// smallest is a smallest palette that reaches every demand within the limits.
// When there is none it is nil, and blame names limits that cannot be kept.
func (h *hunt) smallest(ctx context.Context, seen *sighting) (palette set.Set, blame []string, err error) {
	for size := h.rules.keep.Len(); ; size++ {
		seen.atLeast(size)
		palette, out, err := h.find(ctx, question{size: size, unsure: true})
		switch {
		case err != nil:
			return nil, nil, err
		case out == satisfied:
			return palette, nil, nil
		}
		blame := h.blame()
		bounded := slices.Contains(blame, maxTubesWords(size))
		if !bounded || h.rules.maxTubes > 0 && size >= h.rules.maxTubes {
			return nil, blame, h.ensure(ctx)
		}
	}
}

// fallBack serves a scene of which nothing can be reached: the one tube that
// comes nearest to all of it.
func (c *core) fallBack(ctx context.Context, d *decision, h *hunt) error {
	palette, _, err := h.tighten(ctx, everyTarget(len(c.known)), question{size: 1}, nil)
	if err != nil {
		return err
	}
	d.reached, d.size, d.palettes = true, palette.Len(), []set.Set{palette}
	return nil
}

func everyTarget(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
