package recipe

import (
	"context"
	"slices"
)

// piles are up to MostPrepared piles, places in Kitchen.ingredients, ascending;
// what is not taken is 0.
type piles [MostPrepared]int16

func (s *set) piles() (p piles) {
	copy(p[:], s.item[s.tubes:s.n])
	return p
}

// some are those of the first n piles whose bits are set.
func (p piles) some(n int, chosen int) (out piles) {
	at := 0
	for i := range n {
		if chosen>>i&1 == 1 {
			out[at] = p[i]
			at++
		}
	}
	return out
}

// serving tells which goals some recipe of just these piles, all of them, serves.
type serving map[piles]marks

// joinAll adds to m what n piles serve, all or some of them at once.
func (s serving) joinAll(m marks, p piles, n int) {
	for chosen := 1; chosen < 1<<n; chosen++ {
		m.join(s[p.some(n, chosen)])
	}
}

// marker finds what the piles of sets serve.
type marker struct {
	goals []goal
	reach reach
	known serving // of fewer piles
	mine  serving
	at    marks // of the set on hand
	fewer marks // what fewer of its piles serve
	open  []int // what is left to serve
}

func (v *marker) begin(s *set) bool {
	p := s.piles()
	v.at, v.open = v.mine[p], v.open[:0]
	clear(v.fewer)
	v.known.joinAll(v.fewer, p, int(s.n-s.tubes))
	for t := range v.goals {
		if v.reach.of(s, &v.goals[t]) && !v.at.has(t) && !v.fewer.has(t) {
			v.open = append(v.open, t)
		}
	}
	if v.at == nil && len(v.open) > 0 {
		v.at = newMarks(len(v.goals))
		v.mine[p] = v.at
	}
	return len(v.open) > 0
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

// serve asks which goals the piles of a kitchen serve, up to so many at once.
func (k *Kitchen) serve(ctx context.Context, goals []goal, reach reach, most int) (serving, error) {
	known := serving{}
	for n := 1; n <= most; n++ {
		sets := k.setsOfPiles(n, k.allPiles())
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
func (k *Kitchen) choose(s serving, most, goals int) []int16 {
	c := choice{serving: s, from: k.allPiles()}
	for n := 1; n <= most; n++ {
		c.extend(piles{}, 0, 0, n, newMarks(goals), 0)
	}
	return c.best
}

// extend adds to n piles the rest of so many, from one on.
func (c *choice) extend(p piles, n, from, most int, served marks, alone int) {
	if n == most {
		if plain := served.count(); plain > c.plain || plain == c.plain && n == len(c.best) && alone > c.alone {
			c.best, c.plain, c.alone = slices.Clone(p[:n]), plain, alone
		}
		return
	}
	with := slices.Clone(served)
	for i := from; i < len(c.from); i++ {
		p[n] = c.from[i]
		copy(with, served)
		for chosen := range 1 << n { // the new one beside some of the others
			with.join(c.serving[p.some(n+1, chosen|1<<n)])
		}
		c.extend(p, n+1, i+1, most, with, alone+c.serving[piles{p[n]}].count())
	}
}
