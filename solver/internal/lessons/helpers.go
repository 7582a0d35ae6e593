package lessons

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
)

// worthATube is the CIEDE2000 a single tube must bring a missed target nearer
// to be named: less is hard to see (common practice, no source).
const worthATube = 0.1

// Helper is a tube that, added to a palette, brings a missed target nearer.
type Helper struct {
	Tube int // < 0: none is worth it
	DE   float64
}

// helper is a tube that brings a target from one difference to another, if that is
// worth a tube.
func helper(tube int, from, to float64) Helper {
	if to > from-worthATube {
		return Helper{Tube: -1}
	}
	return Helper{tube, to}
}

// Help is the one of some tubes that, added to a palette which comes so near to a
// target, brings it nearest; none when the context ends.
func Help(ctx context.Context, s *choice.Stakes, t int, best float64, palette set.Set, tubes []int) Helper {
	far := withEach(ctx, s, t, palette, tubes)
	if len(far) == 0 || ctx.Err() != nil {
		return Helper{Tube: -1}
	}
	at := nearestOf(far)
	return helper(tubes[at], best, far[at])
}

// Helpers are for each target that a palette misses, in order: of the tubes that
// bring it within reach the one that does so for most of those missed, of equals
// the one of least burden; else the one that brings it nearest. best are the
// differences of the targets missed. There are none when the context ends.
func (st *Standing) Helpers(ctx context.Context, r *cover.Rules, missed []int, best []float64) []Helper {
	tubes, burden := set.Minus(r.Allowed, st.Palette).Members(), burden(st.core.Stakes, r, st.Palette)
	far := make([][]float64, len(missed))
	serves := make([]int, len(tubes)) // how many of the missed
	for k, t := range missed {
		far[k] = withEach(ctx, st.core.Stakes, t, st.Palette, tubes)
		for i, de := range far[k] {
			if de <= st.core.Tolerance[t] {
				serves[i]++
			}
		}
	}
	if ctx.Err() != nil {
		return nil
	}
	out := slices.Repeat([]Helper{{Tube: -1}}, len(missed))
	for k, t := range missed {
		if len(tubes) == 0 {
			continue
		}
		at := nearestOf(far[k])
		for i, de := range far[k] {
			if de <= st.core.Tolerance[t] && cmp.Or(cmp.Compare(serves[i], serves[at]), cmp.Compare(burden[tubes[at]], burden[tubes[i]])) > 0 {
				at = i
			}
		}
		out[k] = helper(tubes[at], best[k], far[k][at])
	}
	return out
}

// withEach are the differences that a palette comes to with one of some tubes
// more, as far as known when the context ends.
func withEach(ctx context.Context, s *choice.Stakes, t int, palette set.Set, tubes []int) []float64 {
	far := make([]float64, len(tubes))
	parallel.Each(len(tubes), func(i int) {
		if ctx.Err() == nil {
			with := palette.Clone()
			with.Add(tubes[i])
			far[i] = s.Oracle.Closest(t, with, gamut.Search).DE
		}
	})
	return far
}

// nearestOf is the place of the least difference, the first of equals.
func nearestOf(far []float64) int { return slices.Index(far, slices.Min(far)) }
