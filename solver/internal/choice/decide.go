package choice

import (
	"cmp"
	"context"
	"math"
	"slices"

	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// decide chooses. It starts again, knowing more, when a cut proves wrong.
func (c *Core) decide(ctx context.Context, w *Wish) (*Decision, error) {
	r := c.Rules(w)
	var d *Decision
	err := Retry(func() (err error) {
		d, err = c.attempt(ctx, r, w)
		return err
	})
	return d, err
}

func (c *Core) attempt(ctx context.Context, r *cover.Rules, w *Wish) (*Decision, error) {
	d := &Decision{Rules: r}
	var err error
	if d.Reachable, d.Unreachable, err = c.Reachable(ctx, r.Allowed); err != nil {
		return d, err
	}
	var begun set.Set
	if w.New != nil {
		if begun, err = c.fewestNew(ctx, d, w.New); err != nil {
			return d, err
		}
	}
	h := c.Hunt(d.Rules)
	h.demand(&Demand{targets: d.Reachable, tolerance: c.Tolerance})
	seen := c.watching(h, d, w.Watch)
	seen.best = begun
	defer func() { d.Rounds, d.Cuts = d.Rounds+h.rounds, d.Cuts+h.loaded }()
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
	d.reached, d.Size = true, smallest.Len()
	if err := c.list(ctx, h, d, w, smallest); err != nil {
		d.interrupted(seen)
		return d, err
	}
	d.Needs, err = c.needs(ctx, d)
	return d, err
}

// Reachable tells the targets within reach of some tubes together from those
// beyond.
func (c *Core) Reachable(ctx context.Context, tubes set.Set) (reachable, beyond []int, err error) {
	errs := make([]error, len(c.Known))
	misses := make([]bool, len(c.Known))
	parallel.Each(len(c.Known), func(t int) {
		misses[t], errs[t] = c.Known[t].SurelyMisses(ctx, tubes, c.Tolerance[t])
	})
	for t := range c.Known {
		if misses[t] {
			beyond = append(beyond, t)
		} else {
			reachable = append(reachable, t)
		}
	}
	return reachable, beyond, cmp.Or(errs...)
}

// smallest is a smallest palette that reaches every demand within the limits.
// When there is none it is nil, and blame names limits that cannot be kept.
func (h *Hunt) smallest(ctx context.Context, seen *sighting) (palette set.Set, blame []cover.Limit, err error) {
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
func (c *Core) fallBack(ctx context.Context, d *Decision, h *Hunt) error {
	all := set.Full(len(c.Known)).Members()
	palette, _, err := h.Tighten(ctx, all, cover.Question{Size: 1}, nil)
	if err != nil {
		return err
	}
	if c.ByHand {
		palette = c.nearestTube(h, all)
	}
	d.reached, d.Size, d.Palettes = true, palette.Len(), []set.Set{palette}
	return nil
}

// nearestTube is the one tube that can be paid for which comes nearest by itself to all
// of some targets.
func (c *Core) nearestTube(h *Hunt, targets []int) (best set.Set) {
	least := math.Inf(1)
	for _, i := range h.rules.Allowed.Members() {
		one := set.Of(c.Tubes, i)
		if worst := h.worst(one, targets); h.rules.Affords(h.rules.Weights[i]) && (best == nil || portable.Compare(worst, least, portable.Fine) < 0) {
			best, least = one, worst
		}
	}
	return best
}
