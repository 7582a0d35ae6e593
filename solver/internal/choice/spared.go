package choice

import (
	"context"

	"fewtubes/gamut/set"
)

// Superfluous are those of some tubes of a palette without each of which it
// reaches the same targets.
func (c *Core) Superfluous(ctx context.Context, tubes, palette set.Set, reached []int) (idle []int, err error) {
	for _, i := range tubes.Members() {
		less := palette.Clone()
		less.Remove(i)
		spared, err := c.surelyReachesAll(ctx, less, reached)
		if err != nil {
			return nil, err
		}
		if spared {
			idle = append(idle, i)
		}
	}
	return idle, nil
}

func (c *Core) surelyReachesAll(ctx context.Context, palette set.Set, targets []int) (bool, error) {
	for _, t := range targets {
		if misses, err := c.Known[t].SurelyMisses(ctx, palette, c.Tolerance[t]); misses || err != nil {
			return false, err
		}
	}
	return true, nil
}
