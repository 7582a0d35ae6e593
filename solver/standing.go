package solver

import (
	"context"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
	"fewtubes/solver/internal/parallel"
)

// standing is how the targets stand to a palette.
type standing struct {
	core    *choice.Core // knows the palette's mixes
	palette set.Set
	before  []float64 // per target: the difference of the palette's nearest mix
	reached []int
	missed  []int // though the tubes allowed reach them all together
	beyond  []int // all the tubes allowed
}

// standing mixes every target from a palette, and looks among the tubes allowed
// for what it misses as a choice does.
func (s *Session) standing(ctx context.Context, palette set.Set, r *cover.Rules) (*standing, error) {
	st := &standing{core: s.choice.Blank(), palette: palette, before: make([]float64, len(s.problem.Targets))}
	parallel.Each(len(st.before), func(t int) {
		if ctx.Err() == nil {
			mix := s.alone(t, palette)
			st.core.Known[t].Learn(mix)
			st.before[t] = mix.DE
		}
	})
	reachable, beyond, err := st.core.Reachable(ctx, r.Allowed)
	if err != nil {
		return nil, err
	}
	st.beyond = beyond
	for _, t := range reachable {
		if st.before[t] <= st.core.Tolerance[t] {
			st.reached = append(st.reached, t)
		} else {
			st.missed = append(st.missed, t)
		}
	}
	return st, ctx.Err()
}

// with are the differences of the nearest mixes of another palette, as far as
// they are known when the context ends.
func (st *standing) with(ctx context.Context, s *Session, palette set.Set) []float64 {
	far := make([]float64, len(st.before))
	parallel.Each(len(far), func(t int) {
		if ctx.Err() == nil {
			far[t] = st.core.Shown(t, palette).DE
		}
	})
	return far
}

// mean is that of differences over the targets that palettes are judged by.
func (st *standing) mean(far []float64) float64 {
	sum := 0.0
	all := judged(len(far), st.beyond)
	for _, t := range all {
		sum += far[t]
	}
	return sum / float64(len(all))
}

// judged are the targets that palettes are judged by: those not beyond all tubes
// together, or all where every one is.
func judged(targets int, beyond []int) []int {
	if len(beyond) == targets {
		return beyond
	}
	return slices.DeleteFunc(set.Full(targets).Members(), func(t int) bool { return slices.Contains(beyond, t) })
}
