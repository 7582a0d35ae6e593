package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/parallel"
)

// Reason is why one tube of a palette is there.
type Reason struct {
	Tube    string
	Targets []Loss // what the palette would no longer reach without it
}

// Loss is a target that a palette reaches only with a certain tube.
type Loss struct {
	Target string
	BestDE float64 // the nearest without the tube; +Inf if no other is left
}

// Why lists for each tube of a palette, in catalogue order, the targets that
// need it: reached with it and missed without. It gives up with the context's
// error.
func (s *Session) Why(ctx context.Context, tubes []string) ([]Reason, error) {
	set, err := s.index.find("palette", tubes)
	if err != nil {
		return nil, err
	}
	reached := s.reachedBy(ctx, set)
	var out []Reason
	for _, i := range set.Members() {
		less := set.Clone()
		less.Remove(i)
		reason := Reason{Tube: s.index.tubes[i].ID}
		far := s.differences(ctx, less, reached)
		for n, t := range reached {
			if far[n] > s.problem.Targets[t].Tolerance {
				reason.Targets = append(reason.Targets, Loss{s.problem.Targets[t].Name, far[n]})
			}
		}
		out = append(out, reason)
	}
	return out, ctx.Err()
}

// reachedBy are the targets within tolerance of a palette, as far as known when
// the context ends.
func (s *Session) reachedBy(ctx context.Context, held set.Set) []int {
	all := set.Full(len(s.problem.Targets)).Members()
	far := s.differences(ctx, held, all)
	return slices.DeleteFunc(all, func(t int) bool { return far[t] > s.problem.Targets[t].Tolerance })
}

// differences are those of a palette's nearest mixes to the targets, +Inf for
// what was not looked at before the context ended.
func (s *Session) differences(ctx context.Context, held set.Set, targets []int) []float64 {
	far := make([]float64, len(targets))
	parallel.Each(len(targets), func(i int) {
		if far[i] = math.Inf(1); ctx.Err() == nil {
			far[i] = s.alone(targets[i], held).DE
		}
	})
	return far
}

// shareNoTube reports whether no tube answers two of the needs.
func shareNoTube(needs []Need) bool {
	seen := map[string]bool{}
	for _, n := range needs {
		for _, id := range n.OneOf {
			if seen[id] {
				return false
			}
			seen[id] = true
		}
	}
	return true
}

// DisjointNeeds are needs without a tube in common, as many as the minimum of
// the answer: a proof that can be followed by eye, since each asks for a tube of
// its own. It is nil where none were found among the cuts known when the
// answer, one of Choose, was given; then Answer.Needs hold the proof. The tubes
// allowed are those of the limits the answer was given under. It gives up with
// the context's error.
func (s *Session) DisjointNeeds(ctx context.Context, limits Limits, a *Answer) ([]Need, error) {
	if len(a.Needs) == a.Minimum.Tubes && shareNoTube(a.Needs) {
		return a.Needs, nil
	}
	r, err := s.index.rules(&limits)
	if err != nil || a.behind == nil {
		return nil, err
	}
	var targets []int
	for t, o := range a.Palettes[0].Targets {
		if o.Reached {
			targets = append(targets, t)
		}
	}
	found, err := a.behind.DisjointNeeds(ctx, r, targets, a.Minimum.Tubes)
	if err != nil || found == nil {
		return nil, err
	}
	return s.needs(found), nil
}
