package solver

import (
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// fineness is the least gain in CIEDE2000 that tighten looks for: what it finds
// is the tightest there is to within this.
const fineness = 0.001

// farOff is a difference that any mix beats.
const farOff = 1e6

// tighten finds, among the palettes that answer the question, one whose worst
// difference over the targets is least. start is a palette that answers it, or
// nil. A nil palette says that none does.
func (h *hunt) tighten(ctx context.Context, targets []int, q cover.Question, start set.Set) (best set.Set, worst float64, err error) {
	best, worst = start, farOff
	if start != nil {
		worst = min(farOff, h.worst(start, targets))
	}
	under := h.Switch()
	d := h.demand(&demand{targets: targets, tolerance: make([]float64, len(h.known)), under: under})
	defer h.drop(d)
	q.On = append(slices.Clone(q.On), under)
	for worst > fineness {
		for t := range d.tolerance {
			d.tolerance[t] = worst - fineness
		}
		palette, out, err := h.find(ctx, q)
		if err != nil || out == cover.Failed {
			return best, worst, err
		}
		best, worst = palette, min(worst-fineness, h.worst(palette, targets))
	}
	return best, worst, nil
}

// worst is the largest difference of a palette's mixes over the targets.
func (h *hunt) worst(palette set.Set, targets []int) float64 {
	far := make([]float64, len(targets))
	parallel.Each(len(targets), func(i int) { far[i] = h.known[targets[i]].Nearest(palette, gamut.Search).DE })
	if len(far) == 0 {
		return 0
	}
	return slices.Max(far)
}

// drop takes back a demand under a switch.
func (h *hunt) drop(d *demand) {
	h.Drop(d.under)
	h.demands = slices.DeleteFunc(h.demands, func(x *demand) bool { return x == d })
	h.cuts = slices.DeleteFunc(h.cuts, func(c cut) bool { return c.d == d })
}
