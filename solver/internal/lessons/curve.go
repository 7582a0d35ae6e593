package lessons

import (
	"context"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
)

// Point is the tightest tolerance, to within choice.Fineness, that a number of tubes
// or a price can hold, and a palette that holds it.
type Point struct {
	Palette   set.Set
	Tolerance float64
	Price     int
}

const (
	// FineEnough ends a curve: a worst difference below it is not seen side by
	// side (common practice, no source).
	FineEnough = 0.5
	// PriceStep is the least gain in CIEDE2000 worth a point on the price curve.
	PriceStep = 0.25
)

// Curve is how tight a tolerance each number of tubes, and each price, can hold
// over the targets that all tubes allowed reach within the loosest (> 0). found is
// told whenever a point is found how many there are.
func Curve(ctx context.Context, s *choice.Stakes, r *cover.Rules, loosest float64, found func(points int)) (targets []int, sizes, prices []Point, err error) {
	k := s.Blank()
	targets, floor, err := within(ctx, k, r, loosest)
	if err != nil || len(targets) == 0 {
		return targets, nil, nil, err
	}
	if sizes, err = bySize(ctx, k, r, targets, floor, found); err != nil {
		return targets, nil, nil, err
	}
	prices, err = byPrice(ctx, k, r, targets, floor, loosest, sizes, func(points int) { found(len(sizes) + points) })
	return targets, sizes, prices, err
}

// within are the targets that all allowed tubes together reach at a tolerance,
// and the worst difference they come to.
func within(ctx context.Context, c *choice.Core, r *cover.Rules, tolerance float64) (targets []int, floor float64, err error) {
	far := make([]float64, len(c.Known))
	parallel.Each(len(c.Known), func(t int) {
		if far[t] = math.Inf(1); ctx.Err() == nil {
			far[t] = c.Known[t].Nearest(r.Allowed, gamut.Verdict).DE
		}
	})
	for t := range far {
		if far[t] <= tolerance {
			targets, floor = append(targets, t), max(floor, far[t])
		}
	}
	return targets, floor, ctx.Err()
}

func bySize(ctx context.Context, k *choice.Core, r *cover.Rules, targets []int, floor float64, found func(points int)) (points []Point, err error) {
	err = choice.Retry(func() error {
		points = nil
		h := k.Hunt(r)
		var best set.Set
		last := choice.FarOff
		for size := max(1, r.Keep.Len()); size <= r.Allowed.Len(); size++ {
			palette, worst, err := h.Tighten(ctx, targets, cover.Question{Size: size}, best)
			if err != nil {
				return err
			}
			if best = palette; palette == nil {
				continue // the limits need more tubes than this
			}
			if worst < last-choice.Fineness {
				points = append(points, Point{palette, worst, r.Weight(palette)})
				found(len(points))
			}
			last = min(last, worst)
			if worst <= max(FineEnough, floor+choice.Fineness) || size == r.Most {
				return nil
			}
		}
		return nil
	})
	return points, err
}

// byPrice steps along the palettes that no other beats in both price and
// tolerance: the cheapest that holds the loosest tolerance, the tightest at that
// price, the cheapest that is tighter by a step, and so on. The points by size
// show how cheap it can be at least.
func byPrice(ctx context.Context, k *choice.Core, r *cover.Rules, targets []int, floor, loosest float64, bySize []Point, found func(points int)) (points []Point, err error) {
	err = choice.Retry(func() error {
		points = nil
		h := k.Hunt(r)
		for tolerance := loosest; ; {
			d := h.Within(targets, tolerance)
			palette, cost, err := h.Cheaper(ctx, cover.Question{Size: -1, On: []cover.Switch{d.Under}}, h.Weight(), cheapestOf(bySize, tolerance))
			h.Drop(d)
			if err != nil || palette == nil {
				return err
			}
			at := cover.Question{Size: -1, Bounds: []cover.Bound{{Sum: h.Weight(), Most: cost}}}
			palette, worst, err := h.Tighten(ctx, targets, at, palette)
			if err != nil {
				return err
			}
			points = append(points, Point{palette, worst, r.Weight(palette)})
			found(len(points))
			tolerance = worst - PriceStep
			if tolerance < max(floor, FineEnough-PriceStep) {
				return nil
			}
		}
	})
	return points, err
}

// cheapestOf is the palette of the cheapest point that holds a tolerance, or nil.
func cheapestOf(points []Point, tolerance float64) set.Set {
	var best *Point
	for i := range points {
		if p := &points[i]; p.Tolerance <= tolerance && (best == nil || p.Price < best.Price) {
			best = p
		}
	}
	if best == nil {
		return nil
	}
	return best.Palette
}
