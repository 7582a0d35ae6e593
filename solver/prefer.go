package solver

import (
	"context"

	"fewtubes/catalog"
	"fewtubes/gamut/set"
)

// costs are the weights whose sum a preference makes least, exactly, among the
// smallest palettes; nil for accuracy, which is no sum over tubes.
//
//   - price: hundredths, owned tubes 0
//   - hazards: how many hazard classes the tubes carry, each tube counted
//   - lightfastness: fewest tubes of the worst class, then of the next; a tube
//     of unknown class counts as III
func costs(prefer Preference, tubes []catalog.Tube, r *rules, size int) []int {
	out := make([]int, len(tubes))
	for i := range tubes {
		switch prefer {
		case Price:
			out[i] = r.prices[i]
		case FewestHazards:
			out[i] = len(tubes[i].Hazards)
		case Lightfast:
			out[i] = fading(tubes[i].Lightfastness, size)
		default:
			return nil
		}
	}
	return out
}

// fading weighs a lightfastness class so that no number of better tubes in a
// palette of the size outweighs a worse one.
func fading(class string, size int) int {
	weight := 1
	for _, c := range []string{"II", "III", "IV", "V"} {
		if class == c {
			return weight
		}
		weight *= size + 1
	}
	if class == "I" {
		return 0
	}
	return size + 1
}

// cheapest is a palette that answers the question at the least sum, or nil.
func (h *hunt) cheapest(ctx context.Context, q question, s *tubeSum) (best set.Set, cost int, err error) {
	return h.cheaper(ctx, q, s, nil)
}

// cheaper is cheapest where a palette that answers the question is known
// already, or nil.
func (h *hunt) cheaper(ctx context.Context, q question, s *tubeSum, known set.Set) (best set.Set, cost int, err error) {
	if known != nil {
		best, cost = known, s.of(known)
		q = q.below(s, cost)
	}
	for {
		palette, out, err := h.find(ctx, q)
		if err != nil || out == failed {
			return best, cost, err
		}
		best, cost = palette, s.of(palette)
		if cost == 0 {
			return best, cost, nil
		}
		q = q.below(s, cost)
	}
}

// below is the question with a sum less than cost.
func (q question) below(s *tubeSum, cost int) question {
	q.bounds = append(q.bounds[:len(q.bounds):len(q.bounds)], bound{s, cost - 1})
	return q
}
