package solver

import (
	"context"
	"fmt"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/doubt"
)

// Sure is the answer to "which palette holds in so many plausible boxes": the smallest
// that does and, of its size, the one that holds in most; what is proven of that over
// the boxes; and how it fares in boxes nobody looked at before. A box in which all
// allowed tubes together miss a target counts as missed.
type Sure struct {
	Asked   float64 `json:"asked"`   // per cent of the boxes
	Draws   int     `json:"draws"`   // boxes 1..draws
	Needed  int     `json:"needed"`  // of these
	Reached bool    `json:"reached"` // the palette holds in as many
	Holds   int     `json:"holds"`
	AtMost  int     `json:"at_most"` // no palette of as many tubes holds in more; equal to holds where that is settled

	Fewer    *Fewer    `json:"one_fewer,omitempty"`
	Fresh    Fresh     `json:"fresh"`
	Together []Holding `json:"together"` // targets that all allowed tubes together miss in some box
	InTheWay []Limit   `json:"-"`        // limits that stand in the way, where not reached
}

// Fewer is the best that is known of one tube fewer.
type Fewer struct {
	Tubes  []string `json:"tubes"`
	Holds  int      `json:"holds"`
	AtMost int      `json:"at_most"` // none holds in more
}

// Fresh is how a palette fares in boxes that had no part in choosing it.
type Fresh struct {
	Draws   int     `json:"draws"`
	Holds   int     `json:"holds"`
	AtLeast float64 `json:"at_least"` // exact lower bound at 99 % of its share of all boxes, in per cent
}

// freshDraws are tried after those a palette is chosen by.
const freshDraws = 1000

// ChooseSure finds the smallest palette that reaches every reachable target in at least
// so many per cent, over 0 up to 100, of plausible boxes 1..draws, however it fares as
// the tubes stand. The answer holds that palette alone, its minimum is that of the
// boxes, and so are its needs. Errors are as of Choose.
func (s *Session) ChooseSure(ctx context.Context, limits Limits, prefer Preference, percent float64, draws int, progress func(Progress)) (*Answer, *Sure, error) {
	if !(percent > 0 && percent <= 100) {
		return nil, nil, &InputError{"holds", fmt.Sprintf("%v per cent of the boxes is no share", percent), "write a number over 0, up to 100"}
	}
	limits.FewestToBuy = false // tubes are counted in all
	a, err := s.ChooseWhole(ctx, limits, prefer, progress)
	if err != nil || len(a.Palettes) == 0 || len(a.Unreachable) == len(s.problem.Targets) {
		return a, nil, err
	}
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, nil, err
	}
	judged := s.reachable(a)
	core := a.behind.Copy()
	h, err := doubt.NewHunt(ctx, s.boxes(), core, r, judged, draws)
	if err != nil {
		return nil, nil, err
	}
	needed := int(math.Ceil(float64(draws)*percent/100 - 1e-9))
	listed := make([]set.Set, len(a.Palettes))
	for i := range listed {
		listed[i], _ = s.index.find("palette", a.Palettes[i].Tubes)
	}
	found, err := h.Sure(ctx, listed, draws-needed)
	if err != nil {
		return nil, nil, err
	}
	held := s.freely(found.Palette, judged)
	share, err := s.boxes().Shares(ctx, []*doubt.Held{held}, draws+1, draws+freshDraws)
	if err != nil {
		return nil, nil, err
	}
	out := &Sure{
		Asked: percent, Draws: draws, Needed: needed, Reached: found.Enough,
		Holds: draws - found.Missed, AtMost: draws - found.Least,
		Fresh:    Fresh{freshDraws, share[0], math.Round(doubt.AtLeast(share[0], freshDraws)*1000) / 10},
		Together: []Holding{}, InTheWay: inTheWay(&limits, found.Limits, s.index),
	}
	for t, n := range found.Missing {
		if n > 0 {
			out.Together = append(out.Together, Holding{s.problem.Targets[t].Name, draws - n})
		}
	}
	if found.Fewer != nil {
		out.Fewer = &Fewer{s.index.ids(found.Fewer), draws - found.FewerMissed, draws - found.FewerLeast}
	}
	s.sureAnswer(ctx, a, core, found, r)
	if wrong := s.verify(a, &limits); wrong != nil {
		return nil, nil, wrong
	}
	return a, out, ctx.Err()
}

// reachable are the targets that all allowed tubes together reach.
func (s *Session) reachable(a *Answer) (out []int) {
	beyond := s.targetsOf(a.Unreachable)
	for t := range s.problem.Targets {
		if !slices.Contains(beyond, t) {
			out = append(out, t)
		}
	}
	return out
}

// sureAnswer makes an answer that of the boxes.
func (s *Session) sureAnswer(ctx context.Context, a *Answer, c *choice.Core, found *doubt.Sure, r *cover.Rules) {
	a.Palettes = s.palettes(ctx, c, []set.Set{found.Palette}, 1, r, s.targetsOf(a.Unreachable))
	a.Capped, a.Conflict, a.Superfluous, a.Smaller = false, nil, nil, nil
	a.Minimum = Minimum{found.Palette.Len(), min(found.AtLeast, found.Palette.Len()), InDraws}
	a.Needs = []Need{}
	for _, n := range found.Needs {
		a.Needs = append(a.Needs, Need{
			Target: s.problem.Targets[n.Target].Name, OneOf: s.index.ids(n.OneOf), Proof: InDraws, Boxes: n.Boxes,
			BestDE: s.alone(n.Target, set.Minus(r.Allowed, n.OneOf)).DE,
		})
	}
	a.Missed, a.Status = nil, AllReached
	for _, t := range s.reachable(a) {
		if o := &a.Palettes[0].Targets[t]; !o.Reached {
			a.Missed = append(a.Missed, s.miss(ctx, t, gamut.Mix{Lab: o.Mix, DE: o.DE}, found.Palette, set.Minus(r.Allowed, found.Palette)))
		}
	}
	if len(a.Missed)+len(a.Unreachable) > 0 {
		a.Status = SomeMissed
	}
}

// inTheWay are the limits that a cover could not keep.
func inTheWay(l *Limits, blame []cover.Limit, x *index) (out []Limit) {
	for _, b := range blame {
		switch {
		case b.Kind == cover.Keep:
			out = append(out, Limit{Kind: KeepTube, Names: []string{x.id(b.At)}})
		case b.Kind == cover.Group:
			out = append(out, Limit{Kind: AtMostOneOf, Names: l.AtMostOne[b.At]})
		case b.Kind == cover.Budget:
			out = append(out, Limit{Kind: MostSpent, Most: b.At})
		case b.At == l.MaxTubes:
			out = append(out, Limit{Kind: MostTubes, Most: b.At})
		}
	}
	slices.SortFunc(out, func(a, b Limit) int { return int(a.Kind) - int(b.Kind) })
	return slices.CompactFunc(out, func(a, b Limit) bool { return a.String() == b.String() })
}

// surest is the palette that holds in most boxes of all that are as small as those
// decided on, or where fewest are to be bought of these; nil where they do not reach all
// that is to be reached.
func (s *Session) surest(ctx context.Context, l *Limits, c *choice.Core, d *choice.Decision) (set.Set, error) {
	if !d.Reaches() || len(d.Reachable) == 0 {
		return nil, nil
	}
	h, err := doubt.NewHunt(ctx, s.boxes(), c.Copy(), d.Rules, d.Reachable, UsualDraws)
	if err != nil {
		return nil, err
	}
	palette, _, _, err := h.Surest(ctx, d.Palettes, d.Size, !l.FewestToBuy)
	return palette, err
}
