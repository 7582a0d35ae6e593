package choice

import (
	"context"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/reach"
)

const (
	// unseen is the worst difference below which less is no gain: about where a
	// trained eye begins to see two fields side by side (common practice, no source).
	unseen = 1.0
	// eyeStep is how finely worst differences above that are told apart.
	eyeStep = 0.5
)

// AsGood rounds a worst difference up to what the eye tells apart: 1, 1.5, 2, ...
func AsGood(worst float64) float64 {
	return max(unseen, math.Ceil(worst/eyeStep-1e-9)*eyeStep)
}

// favourite is the best of all smallest palettes by accuracy: the worst
// difference as good to the eye as any has, then the fewest drawbacks, then the
// lowest price. Without the ties a hundredth of a unit, which no eye sees, would
// bring lead, or a colour that fades, into the box.
func (c *Core) favourite(ctx context.Context, h *Hunt, d *Decision, first set.Set) (set.Set, error) {
	best := first
	lowest := unseen
	if c.ByHand { // no palette is nearer than another
		return c.favouriteAt(ctx, h, d, c.loosest(d.Reachable))
	}
	if h.Few {
		var err error
		if lowest, err = c.lowestLevel(ctx, h, d, first); err != nil {
			return nil, err
		}
	}
	for level := lowest; ; level += eyeStep {
		found, err := c.favouriteAt(ctx, h, d, level)
		if found != nil || err != nil {
			return found, err
		}
		if level >= c.loosest(d.Reachable) {
			return best, nil
		}
	}
}

// favouriteAt is the favourite among the palettes whose worst difference is at
// most level, or nil when there is none.
func (c *Core) favouriteAt(ctx context.Context, h *Hunt, d *Decision, level float64) (best set.Set, err error) {
	q, tight := c.atLevel(h, d, level)
	defer h.Drop(tight)
	for _, s := range []*cover.Sum{cover.NewSum(c.Flaws), h.Weight()} {
		palette, cost, err := h.cheapest(ctx, q, s)
		if palette == nil || err != nil {
			return best, err
		}
		best = palette
		q.Bounds = append(q.Bounds, cover.Bound{Sum: s, Most: cost})
	}
	return best, nil
}

// lowestLevel is the least worst difference as the eye tells them apart. It goes
// down from that of a palette: what comes near is listed for less, the less is
// within reach of it.
func (c *Core) lowestLevel(ctx context.Context, h *Hunt, d *Decision, palette set.Set) (float64, error) {
	level := AsGood(h.worst(palette, d.Reachable))
	for level > unseen {
		q, tight := c.atLevel(h, d, level-eyeStep)
		next, out, err := h.find(ctx, q)
		h.Drop(tight)
		if err != nil || out == cover.Failed {
			return level, err
		}
		level = min(level-eyeStep, AsGood(h.worst(next, d.Reachable))) // lower whatever the oracle says
	}
	return level, nil
}

// atLevel asks for a palette of the smallest size whose worst difference is at most
// level.
func (c *Core) atLevel(h *Hunt, d *Decision, level float64) (cover.Question, *Demand) {
	tight := h.Within(d.Reachable, level)
	for t := range tight.tolerance {
		tight.tolerance[t] = min(c.Tolerance[t], level)
	}
	return cover.Question{Size: d.Size, On: []cover.Switch{tight.Under}, Unsure: true}, tight
}

// loosest is the largest tolerance of some targets.
func (c *Core) loosest(targets []int) float64 {
	most := 0.0
	for _, t := range targets {
		most = max(most, c.Tolerance[t])
	}
	return most
}

// Shown is what is shown for a palette and a target: the nearest mix by itself.
// Only where that overlooks what the choice knows, and the eye could tell, it is
// looked for harder, and failing that the known mix is taken.
func (c *Core) Shown(t int, palette set.Set) gamut.Mix {
	mix := reach.Alone(c.Oracle, t, palette)
	known := c.Known[t].BestKnown(palette)
	if known == nil || !c.tells(t, known.DE, mix.DE) {
		return mix
	}
	if harder := c.Oracle.Closest(t, palette, gamut.Verdict); !c.tells(t, known.DE, harder.DE) {
		return harder
	}
	return *known
}

// tells reports whether near is better than far as palettes are judged.
func (c *Core) tells(t int, near, far float64) bool {
	tolerance := c.Tolerance[t]
	return near <= tolerance && far > tolerance || AsGood(near) < AsGood(far)
}
