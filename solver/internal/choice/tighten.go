package choice

import (
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// Fineness is the least gain in CIEDE2000 that tighten looks for: what it finds
// is the tightest there is to within this.
const Fineness = 0.001

// FarOff is a difference that any mix beats.
const FarOff = 1e6

// Tighten finds, among the palettes that answer the question, one whose worst
// difference over the targets is least. start is a palette that answers it, or
// nil. A nil palette says that none does. Where nothing counts but what is reached,
// it is any that answers.
func (h *Hunt) Tighten(ctx context.Context, targets []int, q cover.Question, start set.Set) (best set.Set, worst float64, err error) {
	best, worst = start, FarOff
	if h.flat {
		if start == nil {
			best, _, err = h.find(ctx, q)
		}
		return best, worst, err
	}
	if start != nil {
		worst = min(FarOff, h.worst(start, targets))
	}
	d := h.Within(targets, worst)
	defer h.Drop(d)
	q.On = append(slices.Clone(q.On), d.Under)
	for worst > Fineness {
		for t := range d.tolerance {
			d.tolerance[t] = worst - Fineness
		}
		palette, out, err := h.find(ctx, q)
		if err != nil || out == cover.Failed {
			return best, worst, err
		}
		best, worst = palette, min(worst-Fineness, h.worst(palette, targets))
	}
	return best, worst, nil
}

// worst is the largest difference of a palette's mixes over the targets.
func (h *Hunt) worst(palette set.Set, targets []int) float64 {
	far := make([]float64, len(targets))
	parallel.Each(len(targets), func(i int) { far[i] = h.known[targets[i]].Nearest(palette, gamut.Search).DE })
	if len(far) == 0 {
		return 0
	}
	return slices.Max(far)
}

// Drop takes back a demand under a switch.
func (h *Hunt) Drop(d *Demand) {
	h.Cover.Drop(d.Under)
	h.demands = slices.DeleteFunc(h.demands, func(x *Demand) bool { return x == d })
	h.cuts = slices.DeleteFunc(h.cuts, func(c cut) bool { return c.d == d })
}
