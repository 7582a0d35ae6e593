package recipe

import (
	"context"
	"slices"
)

// closer keeps how near whole parts come to every goal: its limit.
type closer struct {
	goals []goal
	reach *reach
	open  []int
}

func (v *closer) begin(s *ingredients) bool {
	v.open = v.reach.open(v.open, s, v.goals)
	return len(v.open) > 0
}

func (v *closer) wants(d *division, sketch [3]float32) bool {
	return d.touches == 0 && anyInSight(v.goals, v.open, sketch)
}

func (v *closer) see(c *counter, r *counted) bool {
	for _, t := range v.open {
		if de, ok := v.goals[t].difference(r.lab); ok {
			v.goals[t].within(de)
		}
	}
	return true
}

// least is how near whole parts of these sets come to the goals, no farther than
// their limits.
func (k *Kitchen) least(ctx context.Context, sets []ingredients, goals []goal, reach *reach) ([]float64, error) {
	var all []*closer
	err := k.count(ctx, sets, func() visitor {
		all = append(all, &closer{goals: slices.Clone(goals), reach: reach})
		return all[len(all)-1]
	})
	out := make([]float64, len(goals))
	for t := range out {
		out[t] = goals[t].limit
		for _, v := range all {
			out[t] = min(out[t], v.goals[t].limit)
		}
	}
	return out, err
}
