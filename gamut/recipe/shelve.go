package recipe

import "context"

// shelver keeps, for every goal, the recipes that come within it.
type shelver struct {
	goals   []goal
	reach   *reach
	open    []int // goals that the set on hand may serve
	shelves []shelf
}

func (v *shelver) begin(s *ingredients) bool {
	v.open = v.reach.open(v.open, s, v.goals)
	return len(v.open) > 0
}

func (v *shelver) wants(_ *division, sketch [3]float32) bool {
	return anyInSight(v.goals, v.open, sketch)
}

func (v *shelver) see(c *counter, r *counted) bool {
	for _, t := range v.open {
		g := &v.goals[t]
		de, ok := g.difference(r.lab)
		if !ok {
			continue
		}
		found := candidate{*r.set, *r.division, de, r.serial}
		if v.shelves[t].wants(&found) && (r.division.touches == 0 || c.steady(r.division, g)) {
			v.shelves[t].put(found)
		}
	}
	return true
}

// shelve counts out these sets for every goal.
func (k *Kitchen) shelve(ctx context.Context, sets []ingredients, goals []goal, reach *reach) ([]shelf, error) {
	var all []*shelver
	err := k.count(ctx, sets, func() visitor {
		all = append(all, &shelver{goals: goals, reach: reach, shelves: make([]shelf, len(goals))})
		return all[len(all)-1]
	})
	out := make([]shelf, len(goals))
	for _, v := range all {
		for t := range v.shelves {
			out[t].merge(&v.shelves[t])
		}
	}
	return out, err
}
