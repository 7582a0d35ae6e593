package lessons

import (
	"context"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
)

// Loss is a target that a palette no longer reaches without a certain tube.
type Loss struct {
	Target int
	DE     float64 // the nearest without the tube
}

// Why are, per tube of a palette in order, the targets that need it: reached with
// it and missed without.
func Why(ctx context.Context, s *choice.Stakes, palette set.Set) [][]Loss {
	reached := reachedBy(ctx, s, palette)
	var out [][]Loss
	for _, i := range palette.Members() {
		less := palette.Clone()
		less.Remove(i)
		var lost []Loss
		for n, de := range differences(ctx, s, less, reached) {
			if t := reached[n]; de > s.Tolerance[t] {
				lost = append(lost, Loss{t, de})
			}
		}
		out = append(out, lost)
	}
	return out
}
