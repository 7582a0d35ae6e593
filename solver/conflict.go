package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// areaSteps is how finely areas are weighed against each other: the whole comes
// to a tenth of it at least, and to it at most.
const areaSteps = 10_000_000

// missLeast serves limits under which not every reachable target can be
// reached: the missed area is made least, exactly, then the worst difference
// over the reachable targets, then the number of tubes. blame names limits that
// cannot be kept together, to be minimised.
func (c *core) missLeast(ctx context.Context, d *decision, w *wish, blame []cover.Limit) error {
	var err error
	if d.conflict, err = c.conflict(ctx, d, w, blame); err != nil {
		return err
	}
	f := c.forgiving(d.rules, d.reachable, c.weights(d.reachable))
	defer func() { d.rounds, d.cuts = d.rounds+f.rounds, d.cuts+f.loaded }()
	q := cover.Question{Size: -1}
	best, lost, err := f.least(ctx, q, func(palette set.Set) {
		d.palettes, d.size = []set.Set{palette}, palette.Len() // should the time run out
	})
	if err != nil {
		return err
	}
	q = f.losing(q, lost)
	if err := c.settle(ctx, f.hunt, d, q, best); err != nil {
		return err
	}
	if lost < f.waivers.Weight() { // where nothing is reached, any tube would do
		d.smaller, err = f.fewer(ctx, q, d.size)
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
	best, _, err = f.tighten(ctx, f.targets, q, best)
	return best, err
}

// settle picks, among the palettes that miss as little as can be, the one whose
// worst difference is least, and of its kind the smallest.
func (c *core) settle(ctx context.Context, h *hunt, d *decision, q cover.Question, start set.Set) error {
	best, worst, err := h.tighten(ctx, d.reachable, q, start)
	if err != nil {
		return err
	}
	under := h.Switch()
	held := h.demand(&demand{targets: d.reachable, tolerance: make([]float64, len(c.known)), under: under})
	for t := range held.tolerance {
		held.tolerance[t] = worst
	}
	q.On = append(slices.Clone(q.On), under)
	for q.Size = best.Len() - 1; q.Size >= 0; q.Size = best.Len() - 1 {
		palette, out, err := h.find(ctx, q)
		if err != nil {
			return err
		}
		if out == cover.Failed {
			break
		}
		best = palette
	}
	d.palettes, d.size = []set.Set{best}, best.Len()
	return nil
}

// weights are the areas of the targets times a power of ten, so that sums of
// areas as people write them are equal where they look equal; at least 1, so that
// a target without an area is not given up for nothing.
func (c *core) weights(targets []int) []int {
	whole := 0.0
	for _, t := range targets {
		whole += c.area[t]
	}
	steps := 1.0
	if whole > 0 {
		steps = math.Pow10(portable.Decade(min(1e300, areaSteps/whole)))
	}
	out := make([]int, len(targets))
	for i, t := range targets {
		out[i] = max(1, int(math.Round(c.area[t]*steps)))
	}
	return out
}

// lost is the weight of the targets a palette misses, by what is known of it.
func (c *core) lost(palette set.Set, targets, weights []int) int {
	total := 0
	for i, t := range targets {
		if !c.known[t].Reaches(palette, c.tolerance[t], gamut.Search) {
			total += weights[i]
		}
	}
	return total
}

// conflict minimises a set of limits that cannot all be kept with every
// reachable target reached: each limit is left out in turn and the whole
// question is asked again; what can be spared is spared.
func (c *core) conflict(ctx context.Context, d *decision, w *wish, blame []cover.Limit) ([]int, error) {
	var left []int
	for _, i := range inOrder(w.limits) {
		if l := &w.limits[i]; l.narrows() || l.blamed(d.rules, blame) {
			left = append(left, i)
		}
	}
	for i := 0; i < len(left); {
		without := slices.Delete(slices.Clone(left), i, i+1)
		impossible, err := c.impossible(ctx, d.reachable, w, without)
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
func (c *core) impossible(ctx context.Context, targets []int, w *wish, at []int) (bool, error) {
	var limits []limit
	for _, i := range at {
		limits = append(limits, w.limits[i])
	}
	h := newHunt(c.tubes, c.known, rulesOf(c.tubes, limits, w.prices))
	h.demand(&demand{targets: targets, tolerance: c.tolerance})
	_, out, err := h.find(ctx, cover.Question{Size: -1})
	return out == cover.Failed, err
}
