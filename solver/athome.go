package solver

import (
	"context"
	"slices"

	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// AtHome are the largest sets of tubes of a palette that can stay at home together.
type AtHome struct {
	Sets   []Leaving // the palette that is left is best in the first
	Capped bool      // there are more than are listed
}

// Leaving is a set of tubes left at home.
type Leaving struct {
	Tubes  []string
	MeanDE float64 // without them, over the targets that all tubes together reach
}

// AtHome finds the largest sets of a palette's tubes without which everything it
// reaches is still reached. There are none where every tube is needed, or nothing
// is reached.
func (s *Session) AtHome(ctx context.Context, palette []string) (*AtHome, error) {
	held, err := s.index.find("palette", palette)
	if err != nil || held.Len() < 2 {
		return &AtHome{}, err
	}
	r, err := s.index.rules(&Limits{})
	if err != nil {
		return nil, err
	}
	st, err := s.standing(ctx, held, r)
	if err != nil || len(st.reached) == 0 {
		return &AtHome{}, err
	}
	r.Allowed = held
	left, capped, err := st.core.Fewest(ctx, r, st.reached, mostAdditions)
	if err != nil {
		return nil, err
	}
	out := &AtHome{Capped: capped}
	for _, p := range left {
		if home := set.Minus(held, p); home.Len() > 0 {
			out.Sets = append(out.Sets, Leaving{s.index.ids(home), st.mean(st.with(ctx, s, p))})
		}
	}
	if len(out.Sets) > 1 {
		slices.SortStableFunc(out.Sets[1:], func(a, b Leaving) int { return portable.Compare(a.MeanDE, b.MeanDE, portable.Shown) })
	}
	return out, ctx.Err()
}

// Spare is the tube of a palette that could best stay at home.
type Spare struct {
	Tube   string
	Lost   []Loss  // targets no longer reached without it; none: it is not needed
	MeanDE float64 // without it, over the targets that all tubes together reach
}

// BestSpare is the tube whose absence costs least area, then least mean
// difference. It is nil for a palette of fewer than two tubes.
func (s *Session) BestSpare(ctx context.Context, tubes []string) (*Spare, error) {
	palette, err := s.index.find("palette", tubes)
	if err != nil || palette.Len() < 2 {
		return nil, err
	}
	r, err := s.index.rules(&Limits{})
	if err != nil {
		return nil, err
	}
	st, err := s.standing(ctx, palette, r)
	if err != nil {
		return nil, err
	}
	weights := st.core.Weights(set.Full(len(st.before)).Members())
	var best *Spare
	least := 0
	for _, i := range palette.Members() {
		less := palette.Clone()
		less.Remove(i)
		far := st.with(ctx, s, less)
		loss, spare := 0, Spare{Tube: s.index.tubes[i].ID, MeanDE: st.mean(far)}
		for _, t := range st.reached {
			if far[t] > st.core.Tolerance[t] {
				loss += weights[t]
				spare.Lost = append(spare.Lost, Loss{s.problem.Targets[t].Name, far[t]})
			}
		}
		if best == nil || loss < least || loss == least && portable.Compare(spare.MeanDE, best.MeanDE, portable.Shown) < 0 {
			best, least = &spare, loss
		}
	}
	return best, ctx.Err()
}
