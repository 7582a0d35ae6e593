package solver

import (
	"context"
	"fmt"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// Curve is how tight a tolerance each number of tubes, and each price, can hold
// over one fixed list of targets.
type Curve struct {
	Targets []string // those reachable at the loosest tolerance asked for
	LeftOut []string // the others
	Points  []Point  // by number of tubes, each tighter than the one before
	Prices  []Point  // by price, each tighter than the one before
}

// Point is the tightest tolerance, CIEDE2000, that a number of tubes or a price
// can hold, to within 0.001, and a palette that holds it.
type Point struct {
	Tubes     int
	Tolerance float64
	Palette   []string
	Price     int    // hundredths; owned tubes cost nothing
	Proof     string // Searched
}

const (
	// fineEnough ends a curve: a worst difference below it is not seen side by
	// side (common practice, no source).
	fineEnough = 0.5
	// priceStep is the least gain in CIEDE2000 worth a point on the price curve.
	priceStep = 0.25
)

// Curve works out the curve under the limits. Targets out of reach of all
// allowed tubes at the loosest tolerance (> 0) are left out throughout; their
// own tolerances play no part. The points of each list end where all allowed
// tubes together do no better, or nobody would see it. watch, if any, is told
// whenever a point is found how many there are.
func (s *Session) Curve(ctx context.Context, limits Limits, loosest float64, watch func(points int)) (*Curve, error) {
	if !(loosest > 0) {
		return nil, &InputError{"curve", fmt.Sprintf("a tolerance of %v is no distance", loosest), "write a number above 0"}
	}
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, err
	}
	k := s.choice.Blank()
	targets, floor, err := within(ctx, k, r, loosest)
	if err != nil {
		return nil, err
	}
	c := &Curve{Targets: []string{}, LeftOut: []string{}}
	held := map[int]bool{}
	for _, t := range targets {
		held[t] = true
	}
	for t := range s.problem.Targets {
		if name := s.problem.Targets[t].Name; held[t] {
			c.Targets = append(c.Targets, name)
		} else {
			c.LeftOut = append(c.LeftOut, name)
		}
	}
	if len(targets) == 0 {
		return c, nil
	}
	if c.Points, err = s.bySize(ctx, k, r, targets, floor, counting(0, watch)); err != nil {
		return nil, err
	}
	c.Prices, err = s.byPrice(ctx, k, r, targets, floor, loosest, c.Points, counting(len(c.Points), watch))
	return c, err
}

// counting tells a watcher, if there is one, of points found besides so many.
func counting(before int, watch func(points int)) func(points int) {
	return func(points int) {
		if watch != nil {
			watch(before + points)
		}
	}
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

func (s *Session) bySize(ctx context.Context, k *choice.Core, r *cover.Rules, targets []int, floor float64, found func(points int)) (points []Point, err error) {
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
				points = append(points, s.point(r, palette, worst))
				found(len(points))
			}
			last = min(last, worst)
			if worst <= max(fineEnough, floor+choice.Fineness) || size == r.Most {
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
func (s *Session) byPrice(ctx context.Context, k *choice.Core, r *cover.Rules, targets []int, floor, loosest float64, bySize []Point, found func(points int)) (points []Point, err error) {
	err = choice.Retry(func() error {
		points = nil
		h := k.Hunt(r)
		for tolerance := loosest; ; {
			d := h.Within(targets, tolerance)
			palette, cost, err := h.Cheaper(ctx, cover.Question{Size: -1, On: []cover.Switch{d.Under}}, h.Weight(), s.cheapestOf(bySize, tolerance))
			h.Drop(d)
			if err != nil || palette == nil {
				return err
			}
			at := cover.Question{Size: -1, Bounds: []cover.Bound{{Sum: h.Weight(), Most: cost}}}
			palette, worst, err := h.Tighten(ctx, targets, at, palette)
			if err != nil {
				return err
			}
			points = append(points, s.point(r, palette, worst))
			found(len(points))
			tolerance = worst - priceStep
			if tolerance < max(floor, fineEnough-priceStep) {
				return nil
			}
		}
	})
	return points, err
}

// cheapestOf is the palette of the cheapest point that holds a tolerance, or nil.
func (s *Session) cheapestOf(points []Point, tolerance float64) set.Set {
	var best *Point
	for i := range points {
		if p := &points[i]; p.Tolerance <= tolerance && (best == nil || p.Price < best.Price) {
			best = p
		}
	}
	if best == nil {
		return nil
	}
	held, _ := s.index.find("palette", best.Palette)
	return held
}

func (s *Session) point(r *cover.Rules, palette set.Set, worst float64) Point {
	return Point{Tubes: palette.Len(), Tolerance: worst, Palette: s.index.ids(palette), Price: r.Weight(palette), Proof: Searched}
}
