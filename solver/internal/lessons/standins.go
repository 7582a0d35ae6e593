package lessons

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/reach"
)

// StandIn is a tube with which, in place of another, everything that a palette
// reached is still reached.
type StandIn struct {
	Tube    int
	WorstDE float64 // of the palette with the stand-in, over the same targets
	MeanDE  float64
	Price   int // of the palette with the stand-in
}

// StandIns are, per tube of a palette in order, every tube that could stand in for
// it under the rules, that of least worst difference first.
func StandIns(ctx context.Context, s *choice.Stakes, r *cover.Rules, palette set.Set) ([][]StandIn, error) {
	reached := reachedBy(ctx, s, palette)
	known := make([]gamut.Mix, len(reached))
	parallel.Each(len(reached), func(i int) {
		if ctx.Err() == nil {
			known[i] = reach.Alone(s.Oracle, reached[i], palette)
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	members := palette.Members()
	out := make([][]StandIn, len(members))
	parallel.Each(len(members), func(n int) {
		c := s.Blank() // of its own: what one tube teaches must not depend on when another is done
		for i, t := range reached {
			c.Known[t].Learn(known[i])
		}
		out[n] = standIns(ctx, c, r, palette, members[n], reached)
	})
	return out, ctx.Err()
}

// standIns are those for one tube of a palette.
func standIns(ctx context.Context, c *choice.Core, r *cover.Rules, palette set.Set, tube int, reached []int) []StandIn {
	out := []StandIn{}
	less := palette.Clone()
	less.Remove(tube)
	for _, j := range set.Minus(r.Allowed, palette).Members() {
		with := less.Clone()
		with.Add(j)
		if ctx.Err() != nil {
			break
		}
		if r.Keeps(with) && reachesAll(ctx, c, with, j, r.Allowed, reached) {
			out = append(out, standIn(c, r, j, with, reached))
		}
	}
	slices.SortStableFunc(out, func(a, b StandIn) int {
		return cmp.Or(portable.Compare(a.WorstDE, b.WorstDE, portable.Shown), portable.Compare(a.MeanDE, b.MeanDE, portable.Shown))
	})
	return out
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
		if !c.ByHand { // where it would count out all tubes
			_, _ = k.Explain(ctx, with, allowed, c.Tolerance[t]) // for those that follow
		}
		return false
	}
	return true
}

func standIn(c *choice.Core, r *cover.Rules, tube int, palette set.Set, targets []int) StandIn {
	out := StandIn{Tube: tube, Price: r.Weight(palette)}
	far := make([]float64, len(targets))
	parallel.Each(len(far), func(i int) { far[i] = c.Shown(targets[i], palette).DE })
	for _, de := range far {
		out.WorstDE = max(out.WorstDE, de)
		out.MeanDE += de / float64(len(far))
	}
	return out
}
