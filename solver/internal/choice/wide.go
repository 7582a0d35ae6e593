package choice

import (
	"context"
	"errors"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

const (
	// Wide is the CIEDE2000 to spare with which nothing is left to wish for.
	Wide       = 0.5
	less       = 0.8 // of what a palette misses a target by is asked for once it is seen
	hardly     = 0.005
	mostWidths = 200 // palettes looked at
)

// WideNeeds are needs of the decision's minimum that hold at tolerances as wide as
// can be; nil when none were found.
func (c *Core) WideNeeds(ctx context.Context, d *Decision) ([]Need, error) {
	asked := c.Tolerance
	c.Tolerance = slices.Clone(asked)
	for _, t := range d.Reachable {
		c.Tolerance[t] += Wide
	}
	for range mostWidths {
		h := c.Hunt(d.Rules)
		h.demand(&Demand{targets: d.Reachable, tolerance: c.Tolerance})
		palette, out, err := h.find(ctx, cover.Question{Size: d.Size - 1})
		if out == cover.Failed && err == nil {
			var found []Need
			if found, err = c.needs(ctx, d); err == nil {
				return found, nil
			}
		}
		switch {
		case errors.Is(err, errRevoked):
		case err != nil:
			return nil, err
		case !c.narrow(d.Reachable, asked, palette):
			return nil, nil
		}
	}
	return nil, nil
}

// narrow lowers the tolerance of the target that a palette misses by most, so
// that it misses it still. False: it misses none.
func (c *Core) narrow(targets []int, asked []float64, palette set.Set) bool {
	misses := make([]float64, len(c.Known))
	parallel.Each(len(targets), func(i int) {
		t := targets[i]
		misses[t] = c.Known[t].Nearest(palette, gamut.Search).DE - asked[t]
	})
	at := 0
	for t, m := range misses {
		if m > misses[at] {
			at = t
		}
	}
	if !(misses[at] > 0) {
		return false
	}
	spare := min(misses[at], c.Tolerance[at]-asked[at]) * less
	if spare < hardly {
		spare = 0
	}
	c.Tolerance[at] = asked[at] + spare
	return true
}
