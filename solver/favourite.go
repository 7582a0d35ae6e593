package solver

import (
	"context"
	"math"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

const (
	// unseen is the worst difference below which less is no gain: about where a
	// trained eye begins to see two fields side by side (common practice, no source).
	unseen = 1.0
	// eyeStep is how finely worst differences above that are told apart.
	eyeStep = 0.5
)

// asGood rounds a worst difference up to what the eye tells apart: 1, 1.5, 2, ...
func asGood(worst float64) float64 {
	return max(unseen, math.Ceil(worst/eyeStep-1e-9)*eyeStep)
}

// favourite is the best of all smallest palettes by accuracy: the worst
// difference as good to the eye as any has, then the fewest drawbacks, then the
// lowest price. Without the ties a hundredth of a unit, which no eye sees, would
// bring lead, or a colour that fades, into the box.
func (c *core) favourite(ctx context.Context, h *hunt, d *decision, first set.Set) (set.Set, error) {
	best := first
	for level := unseen; ; level += eyeStep {
		found, err := c.favouriteAt(ctx, h, d, level)
		if found != nil || err != nil {
			return found, err
		}
		if level >= c.loosest(d.reachable) {
			return best, nil
		}
	}
}

// favouriteAt is the favourite among the palettes whose worst difference is at
// most level, or nil when there is none.
func (c *core) favouriteAt(ctx context.Context, h *hunt, d *decision, level float64) (best set.Set, err error) {
	under := h.Switch()
	tight := h.demand(&demand{targets: d.reachable, tolerance: make([]float64, len(c.known)), under: under})
	defer h.drop(tight)
	for t := range tight.tolerance {
		tight.tolerance[t] = min(c.tolerance[t], level)
	}
	q := cover.Question{Size: d.size, On: []cover.Switch{under}, Unsure: true}
	for _, s := range []*cover.Sum{cover.NewSum(c.flaws), h.Weight()} {
		palette, cost, err := h.cheapest(ctx, q, s)
		if palette == nil || err != nil {
			return best, err
		}
		best = palette
		q.Bounds = append(q.Bounds, cover.Bound{Sum: s, Most: cost})
	}
	return best, nil
}

// loosest is the largest tolerance of some targets.
func (c *core) loosest(targets []int) float64 {
	most := 0.0
	for _, t := range targets {
		most = max(most, c.tolerance[t])
	}
	return most
}
