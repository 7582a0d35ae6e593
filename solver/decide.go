package solver

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// decide chooses. It starts again, knowing more, when a cut proves wrong.
func (c *core) decide(ctx context.Context, w *wish) (*decision, error) {
	r := c.rules(w)
	for {
		d, err := c.attempt(ctx, r, w)
		if !errors.Is(err, errRevoked) {
			return d, err
		}
	}
}

func (c *core) attempt(ctx context.Context, r *cover.Rules, w *wish) (*decision, error) {
	d := &decision{rules: r}
	if err := c.partTargets(ctx, d); err != nil {
		return d, err
	}
	h := newHunt(c.tubes, c.known, r)
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
	all := d.rules.Allowed
	parallel.Each(len(c.known), func(t int) {
		beyond[t], errs[t] = c.known[t].SurelyMisses(ctx, all, c.tolerance[t])
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
func (h *hunt) smallest(ctx context.Context, seen *sighting) (palette set.Set, blame []cover.Limit, err error) {
	for size := h.rules.Keep.Len(); ; size++ {
		seen.atLeast(size)
		palette, out, err := h.find(ctx, cover.Question{Size: size, Unsure: true})
		switch {
		case err != nil:
			return nil, nil, err
		case out == cover.Satisfied:
			return palette, nil, nil
		}
		blame := h.Blame()
		bounded := slices.Contains(blame, cover.Limit{Kind: cover.Most, At: size})
		if !bounded || h.rules.Most > 0 && size >= h.rules.Most {
			return nil, blame, h.ensure(ctx)
		}
	}
}

// fallBack serves a scene of which nothing can be reached: the one tube that
// comes nearest to all of it.
func (c *core) fallBack(ctx context.Context, d *decision, h *hunt) error {
	palette, _, err := h.tighten(ctx, set.Full(len(c.known)).Members(), cover.Question{Size: 1}, nil)
	if err != nil {
		return err
	}
	d.reached, d.size, d.palettes = true, palette.Len(), []set.Set{palette}
	return nil
}
