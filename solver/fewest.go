package solver

import (
	"context"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// fewest are the smallest palettes under the rules that reach some targets, the
// favourite first, at most so many.
func (c *core) fewest(ctx context.Context, r *cover.Rules, targets []int, most int) (palettes []set.Set, capped bool, err error) {
	err = retry(func() error {
		d := &decision{rules: r, reachable: targets}
		h := newHunt(c.tubes, c.known, r)
		h.demand(&demand{targets: targets, tolerance: c.tolerance})
		smallest, _, err := h.smallest(ctx, c.watching(h, d, nil))
		if err != nil || smallest == nil {
			return err
		}
		d.size = smallest.Len()
		if err := c.list(ctx, h, d, &wish{most: most}, smallest); err != nil {
			return err
		}
		palettes, capped = d.palettes, d.capped
		_, err = c.needs(ctx, d)
		return err
	})
	return palettes, capped, err
}
