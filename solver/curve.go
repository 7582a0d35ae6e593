package solver

import (
	"context"
	"fmt"
	"slices"

	"fewtubes/solver/internal/lessons"
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
	found := func(points int) {
		if watch != nil {
			watch(points)
		}
	}
	targets, sizes, prices, err := lessons.Curve(ctx, s.stakes(), r, loosest, found)
	if err != nil {
		return nil, err
	}
	c := &Curve{Targets: []string{}, LeftOut: []string{}, Points: s.points(sizes), Prices: s.points(prices)}
	for t := range s.problem.Targets {
		if name := s.problem.Targets[t].Name; slices.Contains(targets, t) {
			c.Targets = append(c.Targets, name)
		} else {
			c.LeftOut = append(c.LeftOut, name)
		}
	}
	return c, nil
}

func (s *Session) points(points []lessons.Point) (out []Point) {
	for _, p := range points {
		out = append(out, Point{Tubes: p.Palette.Len(), Tolerance: p.Tolerance, Palette: s.index.ids(p.Palette), Price: p.Price, Proof: Searched})
	}
	return out
}
