package solver

import (
	"context"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// cheapest is a palette that answers the question at the least sum, or nil.
func (h *hunt) cheapest(ctx context.Context, q cover.Question, s *cover.Sum) (best set.Set, cost int, err error) {
	return h.cheaper(ctx, q, s, nil)
}

// cheaper is cheapest where a palette that answers the question is known
// already, or nil.
func (h *hunt) cheaper(ctx context.Context, q cover.Question, s *cover.Sum, known set.Set) (best set.Set, cost int, err error) {
	if known != nil {
		best, cost = known, s.Of(known)
		q = below(q, s, cost)
	}
	for {
		palette, out, err := h.find(ctx, q)
		if err != nil || out == cover.Failed {
			return best, cost, err
		}
		best, cost = palette, s.Of(palette)
		if cost == 0 {
			return best, cost, nil
		}
		q = below(q, s, cost)
	}
}

// below is the question with a sum less than cost.
func below(q cover.Question, s *cover.Sum, cost int) cover.Question {
	q.Bounds = append(slices.Clip(q.Bounds), cover.Bound{Sum: s, Most: cost - 1})
	return q
}
