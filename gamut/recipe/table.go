package recipe

import (
	"context"

	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// Table tells which colours the tubes of a palette mix plainly: straight, within the
// tolerance. What is counted out for one palette is kept for all that share tubes
// with it. It serves one goroutine at a time.
type Table struct {
	k     *Kitchen
	goals []goal
	known map[support]marks // goals that these tubes serve together, and no fewer of them
}

// NewTable is a table for palettes of any of the paints. It refuses what NewKitchen
// refuses.
func NewTable(paints []film.Paint, opt gamut.Options, limits Limits, targets []Target) (*Table, error) {
	k, err := layOut(paints, nil, opt, limits)
	if err != nil {
		return nil, err
	}
	t := &Table{k: k, known: map[support]marks{}}
	for i := range targets {
		t.goals = append(t.goals, newGoal(i, &targets[i]))
	}
	return t, nil
}

// PlainRecipes counts the targets for which a palette, places in the list of paints,
// has a plain recipe: tubes and touches of tubes, without anything let down, within
// the tolerance. It is the number of recipes of Kind Straight that Kitchen.Plan finds
// Within for a palette of up to twelve tubes. The error is the context's.
func (t *Table) PlainRecipes(ctx context.Context, palette set.Set) (int, error) {
	var tubes []int16
	for _, p := range palette.Members() {
		tubes = append(tubes, int16(p))
	}
	plain := newMarks(len(t.goals))
	for n := 1; n <= t.k.most; n++ {
		var paints []support
		subsets(tubes, n, func(chosen []int16) {
			if t.k.limits.Hand.mixes(chosen) {
				paints = append(paints, supportOf(chosen))
			}
		})
		if err := t.learn(ctx, paints); err != nil {
			return 0, err
		}
		for _, s := range paints {
			plain.join(t.known[s])
		}
	}
	return plain.count(), nil
}

// learn counts out paints, all of one number, those of fewer known.
func (t *Table) learn(ctx context.Context, paints []support) error {
	var sets []ingredients
	for _, s := range paints {
		if _, ok := t.known[s]; !ok {
			sets = append(sets, s.straight())
		}
	}
	var all []*plainMarker
	err := t.k.count(ctx, sets, func() visitor {
		all = append(all, &plainMarker{t: t, mine: map[support]marks{}})
		return all[len(all)-1]
	})
	if err != nil {
		return err
	}
	for _, s := range sets {
		t.known[s.paints] = nil
	}
	for _, v := range all {
		for s, m := range v.mine {
			t.known[s] = m
		}
	}
	return nil
}

// plainMarker finds what sets of tubes serve that fewer of them do not.
type plainMarker struct {
	t    *Table
	mine map[support]marks
	open []int // goals left to serve
}

func (v *plainMarker) begin(s *ingredients) bool {
	fewer := newMarks(len(v.t.goals))
	tubes := s.paints.list()
	for n := 1; n < len(tubes); n++ {
		subsets(tubes, n, func(some []int16) { fewer.join(v.t.known[supportOf(some)]) })
	}
	v.open = v.open[:0]
	for g := range v.t.goals {
		if !fewer.has(g) {
			v.open = append(v.open, g)
		}
	}
	return len(v.open) > 0
}

func (v *plainMarker) wants(_ *division, sketch [3]float32) bool {
	return anyInSight(v.t.goals, v.open, sketch)
}

func (v *plainMarker) see(c *counter, r *counted) bool {
	left := v.open[:0]
	for _, g := range v.open {
		if !c.serves(r, &v.t.goals[g]) {
			left = append(left, g)
			continue
		}
		m := v.mine[r.set.paints]
		if m == nil {
			m = newMarks(len(v.t.goals))
			v.mine[r.set.paints] = m
		}
		m.add(g)
	}
	v.open = left
	return len(left) > 0
}
