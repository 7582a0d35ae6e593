package lessons

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/reach"
)

// Standing is how the targets stand to a palette.
type Standing struct {
	Palette set.Set
	Missed  []int // though the tubes allowed reach them all together
	Beyond  []int // all the tubes allowed

	core    *choice.Core // knows the palette's mixes
	before  []float64    // per target: the difference of the palette's nearest mix
	reached []int
}

// Stand mixes every target from a palette, and looks among the tubes allowed for
// what it misses as a choice does.
func Stand(ctx context.Context, s *choice.Stakes, palette, allowed set.Set) (*Standing, error) {
	st := &Standing{Palette: palette, core: s.Blank(), before: make([]float64, len(s.Tolerance))}
	parallel.Each(len(st.before), func(t int) {
		if ctx.Err() == nil {
			mix := reach.Alone(s.Oracle, t, palette)
			st.core.Known[t].Learn(mix)
			st.before[t] = mix.DE
		}
	})
	reachable, beyond, err := st.core.Reachable(ctx, allowed)
	if err != nil {
		return nil, err
	}
	st.Beyond = beyond
	for _, t := range reachable {
		if st.before[t] <= s.Tolerance[t] {
			st.reached = append(st.reached, t)
		} else {
			st.Missed = append(st.Missed, t)
		}
	}
	return st, ctx.Err()
}

// with are the differences of the nearest mixes of another palette, as far as
// they are known when the context ends.
func (st *Standing) with(ctx context.Context, palette set.Set) []float64 {
	far := make([]float64, len(st.before))
	parallel.Each(len(far), func(t int) {
		if ctx.Err() == nil {
			far[t] = st.core.Shown(t, palette).DE
		}
	})
	return far
}

// mean is that of differences over the targets that palettes are judged by.
func (st *Standing) mean(far []float64) float64 {
	sum := 0.0
	all := Judged(len(far), st.Beyond)
	for _, t := range all {
		sum += far[t]
	}
	return sum / float64(len(all))
}

// Judged are the targets that palettes are judged by: those not beyond all tubes
// together, or all where every one is.
func Judged(targets int, beyond []int) []int {
	if len(beyond) == targets {
		return beyond
	}
	return slices.DeleteFunc(set.Full(targets).Members(), func(t int) bool { return slices.Contains(beyond, t) })
}

// differences are those of a palette's nearest mixes to some targets, +Inf for what
// was not looked at before the context ended.
func differences(ctx context.Context, s *choice.Stakes, palette set.Set, targets []int) []float64 {
	far := make([]float64, len(targets))
	parallel.Each(len(targets), func(i int) {
		if far[i] = math.Inf(1); ctx.Err() == nil {
			far[i] = reach.Alone(s.Oracle, targets[i], palette).DE
		}
	})
	return far
}

// reachedBy are the targets within tolerance of a palette, as far as known when the
// context ends.
func reachedBy(ctx context.Context, s *choice.Stakes, palette set.Set) []int {
	all := set.Full(len(s.Tolerance)).Members()
	far := differences(ctx, s, palette, all)
	return slices.DeleteFunc(all, func(t int) bool { return far[t] > s.Tolerance[t] })
}
