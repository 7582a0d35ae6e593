package recipe

import (
	"context"
	"slices"
)

// mostTogether is the most prepared piles in one recipe.
const mostTogether = 2

// piles are up to two piles, places in Kitchen.ingredients, ascending; what is not
// taken is 0.
type piles [mostTogether]int16

func (s *ingredients) piles() (p piles) {
	copy(p[:], s.item[s.tubes:s.n])
	return p
}

// serving tells which goals some recipe of just these piles, all of them, serves.
type serving map[piles]marks

// marker finds what the piles of sets serve.
type marker struct {
	goals []goal
	reach *reach
	known serving // of fewer piles
	mine  serving
	at    marks // of the set on hand
	fewer marks // what fewer of its piles serve
	open  []int // what is left to serve
}

func (v *marker) begin(s *ingredients) bool {
	p := s.piles()
	v.at = v.mine[p]
	clear(v.fewer)
	if s.n-s.tubes == mostTogether {
		v.fewer.join(v.known[piles{p[0]}])
		v.fewer.join(v.known[piles{p[1]}])
	}
	v.open = slices.DeleteFunc(v.reach.open(v.open, s, v.goals), func(t int) bool { return v.at.has(t) || v.fewer.has(t) })
	if v.at == nil && len(v.open) > 0 {
		v.at = newMarks(len(v.goals))
		v.mine[p] = v.at
	}
	return len(v.open) > 0
}

func (v *marker) wants(_ *division, sketch [3]float32) bool {
	return anyInSight(v.goals, v.open, sketch)
}

func (v *marker) see(c *counter, r *counted) bool {
	for i := 0; i < len(v.open); i++ {
		if t := v.open[i]; c.serves(r, &v.goals[t]) {
			v.at.add(t)
			v.open = slices.Delete(v.open, i, i+1)
			i--
		}
	}
	return len(v.open) > 0
}

// serve asks which goals the piles of a kitchen serve, one at a time and, where
// together is mostTogether, two at a time.
func (k *Kitchen) serve(ctx context.Context, goals []goal, reach *reach, together int) (serving, error) {
	known := serving{}
	for n := 1; n <= together; n++ {
		var sets []ingredients
		for _, s := range reach.paints {
			sets = append(sets, k.setsOf(s, n, k.allPiles())...)
		}
		var all []*marker
		err := k.count(ctx, sets, func() visitor {
			all = append(all, &marker{goals: goals, reach: reach, known: known, mine: serving{}, fewer: newMarks(len(goals))})
			return all[len(all)-1]
		})
		if err != nil {
			return nil, err
		}
		for _, v := range all {
			for p, m := range v.mine {
				if known[p] == nil {
					known[p] = newMarks(len(goals))
				}
				known[p].join(m)
			}
		}
	}
	return known, nil
}

// choice is the best piles found so far.
type choice struct {
	serving serving
	from    []int16 // piles to choose from
	best    []int16
	plain   int // goals that these serve
	alone   int // the sum of what each of these serves without the others
}

// choose goes through all sets of up to so many piles: those that serve the most
// goals; of these the fewest piles; of these the ones that serve most when each is
// taken alone; of these the first.
func (s serving) choose(most, goals int) []int16 {
	c := choice{serving: s}
	for some, m := range s {
		if m.count() > 0 {
			c.from = append(c.from, some[:]...)
		}
	}
	slices.Sort(c.from)
	c.from = slices.DeleteFunc(slices.Compact(c.from), func(p int16) bool { return p == 0 })
	for n := 1; n <= most; n++ {
		c.extend(nil, 0, n, newMarks(goals), 0)
	}
	return c.best
}

// extend adds to the piles the rest of so many, from one on.
func (c *choice) extend(chosen []int16, from, most int, served marks, alone int) {
	if len(chosen) == most {
		if plain := served.count(); plain > c.plain || plain == c.plain && most == len(c.best) && alone > c.alone {
			c.best, c.plain, c.alone = slices.Clone(chosen), plain, alone
		}
		return
	}
	with := slices.Clone(served)
	for i := from; i < len(c.from); i++ {
		p := c.from[i]
		own := c.serving[piles{p}]
		copy(with, served)
		with.join(own)
		for _, q := range chosen {
			with.join(c.serving[piles{q, p}])
		}
		c.extend(append(chosen, p), i+1, most, with, alone+own.count())
	}
}
