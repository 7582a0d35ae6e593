package lessons

import (
	"context"
	"slices"

	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
)

// Leaving is a set of tubes left at home.
type Leaving struct {
	Tubes  set.Set
	MeanDE float64 // without them, over the targets that palettes are judged by
}

// AtHome finds the largest sets of a palette's tubes without which everything it
// reaches is still reached; the palette that is left is best in the first. There
// are none where every tube is needed, or nothing is reached; capped: there are more.
func AtHome(ctx context.Context, s *choice.Stakes, palette set.Set) (sets []Leaving, capped bool, err error) {
	if palette.Len() < 2 {
		return nil, false, nil
	}
	r := choice.RulesOf(s.Tubes, nil, s.Prices)
	st, err := Stand(ctx, s, palette, r.Allowed)
	if err != nil || len(st.reached) == 0 {
		return nil, false, err
	}
	r.Allowed = palette
	left, capped, err := st.core.Fewest(ctx, r, st.reached, mostListed)
	if err != nil {
		return nil, false, err
	}
	for _, p := range left {
		if home := set.Minus(palette, p); home.Len() > 0 {
			sets = append(sets, Leaving{home, st.mean(st.with(ctx, p))})
		}
	}
	if len(sets) > 1 {
		slices.SortStableFunc(sets[1:], func(a, b Leaving) int { return portable.Compare(a.MeanDE, b.MeanDE, portable.Shown) })
	}
	return sets, capped, ctx.Err()
}

// Spare is the tube of a palette that could best stay at home.
type Spare struct {
	Tube   int
	Lost   []Loss  // targets no longer reached without it
	MeanDE float64 // without it, over the targets that palettes are judged by
}

// BestSpare is the tube whose absence costs least area, then least mean difference;
// nil for a palette of fewer than two tubes.
func BestSpare(ctx context.Context, s *choice.Stakes, palette set.Set) (*Spare, error) {
	if palette.Len() < 2 {
		return nil, nil
	}
	st, err := Stand(ctx, s, palette, set.Full(s.Tubes))
	if err != nil {
		return nil, err
	}
	weights := st.core.Weights(set.Full(len(st.before)).Members())
	var best *Spare
	least := 0
	for _, i := range palette.Members() {
		less := palette.Clone()
		less.Remove(i)
		far := st.with(ctx, less)
		loss, spare := 0, Spare{Tube: i, MeanDE: st.mean(far)}
		for _, t := range st.reached {
			if far[t] > s.Tolerance[t] {
				loss += weights[t]
				spare.Lost = append(spare.Lost, Loss{t, far[t]})
			}
		}
		if best == nil || loss < least || loss == least && portable.Compare(spare.MeanDE, best.MeanDE, portable.Shown) < 0 {
			best, least = &spare, loss
		}
	}
	return best, ctx.Err()
}
