package recipe

import (
	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// reach tells which goals some paints come near in free amounts: no recipe of them
// is nearer. Paints that come near none are left out.
type reach struct {
	paints []support
	near   map[support]marks
}

// beyondDoubt is the CIEDE2000 by which free amounts must miss a goal before the
// recipes of their paints are not looked at: a search overlooks less.
const beyondDoubt = 0.25

// reach asks it of these paints, where anything can be let down.
func (k *Kitchen) reach(all []support, goals []goal) reach {
	if len(k.ingredients) == k.tubes {
		return reach{}
	}
	last := 0
	for _, g := range goals {
		last = max(last, g.target)
	}
	found := make([]marks, len(all))
	parallel.Each(len(all), func(i int) {
		found[i] = newMarks(last + 1)
		for g := range goals {
			if k.comesNear(all[i].list(), &goals[g]) {
				found[i].add(goals[g].target)
			}
		}
	})
	out := reach{near: map[support]marks{}}
	for i, s := range all {
		if found[i].count() > 0 {
			out.paints = append(out.paints, s)
			out.near[s] = found[i]
		}
	}
	return out
}

// comesNear reports whether ingredients in free amounts come near the goal.
func (k *Kitchen) comesNear(items []int16, g *goal) bool {
	some := set.New(len(k.ingredients))
	for _, i := range items {
		some.Add(int(i))
	}
	_, ok := k.mixer.Within(g.lab, some, g.limit+beyondDoubt, gamut.Search)
	return ok
}

// open are the goals that a recipe of the set may come within, in room of the
// caller's; without a reach all.
func (r *reach) open(room []int, s *ingredients, goals []goal) []int {
	room = room[:0]
	for i := range goals {
		if r == nil || r.near[s.paints].has(goals[i].target) {
			room = append(room, i)
		}
	}
	return room
}

// only are the paints that come near any of some goals.
func (r *reach) only(goals []goal) (paints []support) {
	for _, s := range r.paints {
		for _, g := range goals {
			if r.near[s].has(g.target) {
				paints = append(paints, s)
				break
			}
		}
	}
	return paints
}
