package recipe

import (
	"slices"

	"fewtubes/gamut"
)

// paintsKey is the paints of a set, ascending; a place that is not taken is -1.
type paintsKey [mostIngredients]int16

// supportOf are the paints of ingredients.
func (k *Kitchen) supportOf(items []int16) (key paintsKey) {
	var paints []int16
	for _, i := range items {
		in := k.ingredients[i]
		paints = append(paints, int16(in.Paint))
		if in.LetDown() {
			paints = append(paints, int16(in.Into))
		}
	}
	slices.Sort(paints)
	for i := range key {
		key[i] = -1
	}
	copy(key[:], slices.Compact(paints))
	return key
}

// reach tells which targets some paints come near in free amounts: no recipe of
// them is nearer. Nil: that has not been asked.
type reach map[paintsKey]marks

// beyondDoubt is the CIEDE2000 by which free amounts must miss a target before the
// recipes of their paints are not looked at: a search overlooks less.
const beyondDoubt = 0.5

// reach asks it of all paints that a recipe may hold together.
func (k *Kitchen) reach(goals []goal) reach {
	last := 0
	for _, g := range goals {
		last = max(last, g.target)
	}
	sets := k.setsOf()
	found := make([]marks, len(sets))
	each(len(sets), func(i int) {
		found[i] = newMarks(last + 1)
		palette := gamut.NewSet(len(k.ingredients))
		for _, t := range sets[i].item[:sets[i].n] {
			palette.Add(int(t))
		}
		for _, g := range goals {
			if _, ok := k.mixer.Within(g.lab, palette, g.limit+beyondDoubt, gamut.Search); ok {
				found[i].add(g.target)
			}
		}
	})
	out := reach{}
	for i := range sets {
		out[sets[i].support] = found[i]
	}
	return out
}

// of reports whether a recipe of the set may come within the goal.
func (r reach) of(s *set, g *goal) bool { return r == nil || r[s.support].has(g.target) }
