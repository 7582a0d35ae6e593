package solver

import (
	"context"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/doubt"
)

// SurePoint is in how many plausible boxes the best palette of so many tubes holds.
type SurePoint struct {
	Tubes   int
	Holds   int
	AtMost  int // no palette of as many tubes holds in more; equal to Holds where that is settled
	Palette []string
	Price   int // hundredths; owned tubes cost nothing
}

// SureCurve works out, for one tube more after another, the largest share of boxes
// 1..draws in which a palette can reach every reachable target, until all allowed tubes
// together do no better or most tubes are reached. found, if any, is told of each point.
func (s *Session) SureCurve(ctx context.Context, limits Limits, most, draws int, found func(points int)) ([]SurePoint, error) {
	limits.FewestToBuy = false
	a, err := s.ChooseWhole(ctx, limits, "", nil)
	if err != nil || len(a.Palettes) == 0 || len(a.Unreachable) == len(s.problem.Targets) {
		return nil, err
	}
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, err
	}
	h, err := doubt.NewHunt(ctx, s.boxes(), a.behind.Copy(), r, s.reachable(a), draws)
	if err != nil {
		return nil, err
	}
	listed := make([]set.Set, len(a.Palettes))
	for i := range listed {
		listed[i], _ = s.index.find("palette", a.Palettes[i].Tubes)
	}
	var out []SurePoint
	err = h.Curve(ctx, listed, most, func(palette set.Set, missed, least int) {
		out = append(out, SurePoint{palette.Len(), draws - missed, draws - least, s.index.ids(palette), r.Weight(palette)})
		if found != nil {
			found(len(out))
		}
	})
	return out, err
}
