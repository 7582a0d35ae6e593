package solver

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// Swap is a tube of a palette and what could stand in for it.
type Swap struct {
	Tube     string
	StandIns []StandIn // least worst difference first; none: it has no substitute
}

// StandIn is a tube with which, in place of another, everything reached before
// is still reached.
type StandIn struct {
	Tube    string
	WorstDE float64 // of the palette with the stand-in, over the same targets
	MeanDE  float64
	Price   int // of the palette with the stand-in
}

// Swaps finds for each tube of a palette every tube that could stand in for it
// under the limits, with all that the palette reaches still reached.
func (s *Session) Swaps(ctx context.Context, limits Limits, tubes []string) ([]Swap, error) {
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, err
	}
	set, err := s.index.find("palette", tubes)
	if err != nil {
		return nil, err
	}
	reached := s.reachedBy(ctx, set)
	known := make([]gamut.Mix, len(reached))
	parallel.Each(len(reached), func(i int) {
		if ctx.Err() == nil {
			known[i] = s.alone(reached[i], set)
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	members := set.Members()
	out := make([]Swap, len(members))
	parallel.Each(len(members), func(n int) {
		c := s.choice.Blank() // of its own: what one tube teaches must not depend on when another is done
		for i, t := range reached {
			c.Known[t].Learn(known[i])
		}
		out[n] = s.swap(ctx, c, r, set, members[n], reached)
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return out, nil
}

// swap finds the stand-ins of one tube of a palette.
func (s *Session) swap(ctx context.Context, c *choice.Core, r *cover.Rules, palette set.Set, tube int, reached []int) Swap {
	swap := Swap{Tube: s.index.tubes[tube].ID, StandIns: []StandIn{}}
	less := palette.Clone()
	less.Remove(tube)
	for _, j := range set.Minus(r.Allowed, palette).Members() {
		with := less.Clone()
		with.Add(j)
		if ctx.Err() != nil {
			break
		}
		if r.Keeps(with) && reachesAll(ctx, c, with, j, r.Allowed, reached) {
			swap.StandIns = append(swap.StandIns, s.standIn(c, r, j, with, reached))
		}
	}
	slices.SortStableFunc(swap.StandIns, func(a, b StandIn) int {
		return cmp.Or(portable.Compare(a.WorstDE, b.WorstDE, portable.Shown), portable.Compare(a.MeanDE, b.MeanDE, portable.Shown))
	})
	return swap
}

// reachesAll answers from known mixes and cuts where it can. A palette found to
// miss a target leaves a cut behind, grown from its core, that also answers for
// most of the next candidates.
func reachesAll(ctx context.Context, c *choice.Core, with set.Set, tube int, allowed set.Set, targets []int) bool {
	for _, t := range targets {
		// A cut excludes many candidates at once; each is looked at before it goes.
		if k := c.Known[t]; k.KnownToMiss(with, c.Tolerance[t]) && !k.ReachesBy(with, tube, c.Tolerance[t]) {
			return false
		}
	}
	for _, t := range targets {
		k := c.Known[t]
		if k.ReachesBy(with, tube, c.Tolerance[t]) {
			continue
		}
		_, _ = k.Explain(ctx, with, allowed, c.Tolerance[t]) // for those that follow
		return false
	}
	return true
}

func (s *Session) standIn(c *choice.Core, r *cover.Rules, tube int, palette set.Set, targets []int) StandIn {
	out := StandIn{Tube: s.index.tubes[tube].ID, Price: r.Weight(palette)}
	far := make([]float64, len(targets))
	parallel.Each(len(far), func(i int) { far[i] = c.Shown(targets[i], palette).DE })
	for _, de := range far {
		out.WorstDE = max(out.WorstDE, de)
		out.MeanDE += de / float64(len(far))
	}
	return out
}
