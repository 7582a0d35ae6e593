package choice

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// AreaSteps is how finely areas are weighed against each other: the whole comes
// to a tenth of it at least, and to it at most.
const AreaSteps = 10_000_000

// missLeast serves limits under which not every reachable target can be
// reached: the missed area is made least, exactly, then the worst difference
// over the reachable targets, then the number of tubes; the new come right after the
// area. blame names limits that
// cannot be kept together, to be minimised.
func (c *Core) missLeast(ctx context.Context, d *Decision, w *Wish, blame []cover.Limit) error {
	var err error
	if d.Conflict, err = c.conflict(ctx, d, w, blame); err != nil {
		return err
	}
	f := c.forgiving(d.Rules, d.Reachable, c.Weights(d.Reachable))
	defer func() { d.Rounds, d.Cuts = d.Rounds+f.rounds, d.Cuts+f.loaded }()
	q := cover.Question{Size: -1}
	best, lost, err := f.least(ctx, q, func(palette set.Set) {
		d.Palettes, d.Size = []set.Set{palette}, palette.Len() // should the time run out
	})
	if err != nil {
		return err
	}
	q = f.losing(q, lost)
	if w.New != nil {
		s, most := cover.NewCount(w.New, c.Tubes), 0
		if best, most, err = f.Cheaper(ctx, q, s, best); err != nil {
			return err
		}
		q.Bounds, d.Rules = []cover.Bound{{Sum: s, Most: most}}, d.Rules.WithNew(w.New, most)
	}
	if err := c.settle(ctx, f.Hunt, d, q, best); err != nil {
		return err
	}
	if lost < f.waivers.Weight() { // where nothing is reached, any tube would do
		d.Smaller, err = f.fewer(ctx, q, d.Size)
	}
	return err
}

// fewer is the smallest palette of fewer tubes that answers the question, of
// those the one whose worst difference is least; nil where there is none.
func (f *forgiving) fewer(ctx context.Context, q cover.Question, than int) (best set.Set, err error) {
	for q.Size = than - 1; q.Size > 0; q.Size = best.Len() - 1 {
		palette, out, err := f.find(ctx, q)
		if err != nil {
			return nil, err
		}
		if out == cover.Failed {
			break
		}
		best = palette
	}
	if best == nil {
		return nil, nil
	}
	q.Size = best.Len()
	best, _, err = f.Tighten(ctx, f.targets, q, best)
	return best, err
}

// settle picks, among the palettes that miss as little as can be, the one whose
// worst difference is least, and of its kind the smallest: at least a tube.
func (c *Core) settle(ctx context.Context, h *Hunt, d *Decision, q cover.Question, start set.Set) error {
	best, worst, err := h.Tighten(ctx, d.Reachable, q, start)
	if err != nil {
		return err
	}
	if !h.flat {
		q.On = append(slices.Clone(q.On), h.Within(d.Reachable, worst).Under)
	}
	for q.Size = best.Len() - 1; q.Size > 0; q.Size = best.Len() - 1 {
		palette, out, err := h.find(ctx, q)
		if err != nil {
			return err
		}
		if out == cover.Failed {
			break
		}
		best = palette
	}
	if best.Len() == 0 {
		if one := c.nearestTube(h, d.Reachable); one != nil {
			best = one
		}
	}
	d.Palettes, d.Size = []set.Set{best}, best.Len()
	return nil
}

// Weights are the areas of the targets times a power of ten, so that sums of
// areas as people write them are equal where they look equal; at least 1, so that
// a target without an area is not given up for nothing.
func (c *Core) Weights(targets []int) []int {
	whole := 0.0
	for _, t := range targets {
		whole += c.Area[t]
	}
	steps := 1.0
	if whole > 0 {
		steps = math.Pow10(portable.Decade(min(1e300, AreaSteps/whole)))
	}
	out := make([]int, len(targets))
	for i, t := range targets {
		out[i] = max(1, int(math.Round(c.Area[t]*steps)))
	}
	return out
}

// lost is the weight of the targets a palette misses, by what is known of it.
func (c *Core) lost(palette set.Set, targets, weights []int) int {
	total := 0
	for i, t := range targets {
		if !c.Known[t].Reaches(palette, c.Tolerance[t], gamut.Search) {
			total += weights[i]
		}
	}
	return total
}

// conflict minimises a set of limits that cannot all be kept with every
// reachable target reached: each limit is left out in turn and the whole
// question is asked again; what can be spared is spared. By hand the tubes allowed
// stay as they are: to count out more of them takes longer than all the rest.
func (c *Core) conflict(ctx context.Context, d *Decision, w *Wish, blame []cover.Limit) ([]int, error) {
	var left, fixed []int
	for _, i := range inOrder(w.Limits) {
		switch l := &w.Limits[i]; {
		case l.narrows() && c.ByHand:
			fixed = append(fixed, i)
		case l.narrows() || l.blamed(d.Rules, blame):
			left = append(left, i)
		}
	}
	for i := 0; i < len(left); {
		without := slices.Delete(slices.Clone(left), i, i+1)
		impossible, err := c.impossible(ctx, d.Reachable, w, slices.Concat(fixed, without))
		if err != nil {
			return nil, err
		}
		if impossible {
			left = without
		} else {
			i++
		}
	}
	return left, nil
}

// impossible reports whether some limits of a wish rule out reaching the targets.
func (c *Core) impossible(ctx context.Context, targets []int, w *Wish, at []int) (bool, error) {
	var limits []Limit
	for _, i := range at {
		limits = append(limits, w.Limits[i])
	}
	h := c.Hunt(RulesOf(c.Tubes, limits, w.Prices))
	h.demand(&Demand{targets: targets, tolerance: c.Tolerance})
	_, out, err := h.find(ctx, cover.Question{Size: -1})
	return out == cover.Failed, err
}
