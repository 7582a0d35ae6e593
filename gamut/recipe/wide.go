package recipe

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// mostTubes is the number of tubes up to which all recipes are counted out. Of
// more, those are that the nearest mixes take.
const mostTubes = 12

// fewTubes are what a target gets for itself where these do not serve it.
const fewTubes = 6

// wayTubes are what the ways to one colour are counted out of.
const wayTubes = 9

// wide is a palette of more tubes than can be counted out.
type wide struct {
	paints []film.Paint
	mixer  *gamut.Mixer
	opt    gamut.Options
	limits Limits
}

// plan lays out the tubes that the nearest mixes of the targets take, and for each
// target that those leave, the tubes of its own nearest mixes.
func (w *wide) plan(ctx context.Context, targets []Target) (Plan, error) {
	uses := make([][]int, len(targets))
	parallel.Each(len(targets), func(t int) { uses[t] = w.uses(&targets[t]) })
	all := make([]int, len(w.paints))
	for _, u := range uses {
		for p, n := range u {
			all[p] += n
		}
	}
	out, err := w.planOf(ctx, mostUsed(all, mostTubes), w.limits, targets)
	if err != nil {
		return Plan{}, err
	}
	for t := range targets {
		if r := &out.Recipes[t]; !r.Within {
			alone, err := w.planOf(ctx, mostUsed(uses[t], fewTubes), Limits{Total: w.limits.Total}, targets[t:t+1])
			if err != nil {
				return Plan{}, err
			}
			if alone.Recipes[0].DE < r.DE-mayLose {
				*r = alone.Recipes[0]
			}
		}
	}
	out.count()
	return out, nil
}

// ways lays out the tubes that the nearest mixes of the target take.
func (w *wide) ways(ctx context.Context, target Target, most int) ([]Recipe, error) {
	some := mostUsed(w.uses(&target), wayTubes)
	k, err := w.kitchen(some, Limits{Total: w.limits.Total})
	if err != nil {
		return nil, err
	}
	out, err := k.Ways(ctx, target, most)
	for i := range out {
		out[i].of(some)
	}
	return out, err
}

// uses tells how many of the mixes nearest to a target take each paint: of the
// nearest of all, and of those without one of its paints.
func (w *wide) uses(target *Target) []int {
	return usesOf(w.mixer, target.Lab, set.Full(len(w.paints)))
}

// usesOf is that for a palette.
func usesOf(m *gamut.Mixer, target colour.Lab, palette set.Set) []int {
	uses := make([]int, m.Len())
	best := m.Closest(target, palette, gamut.Search)
	add := func(paints []int) {
		for _, p := range paints {
			uses[p]++
		}
	}
	add(best.Paints)
	for _, p := range best.Paints {
		without := palette.Clone()
		without.Remove(p)
		add(m.Closest(target, without, gamut.Search).Paints)
	}
	return uses
}

// mostUsed are at most so many of the paints that have uses, ascending.
func mostUsed(uses []int, most int) (paints []int) {
	for p, n := range uses {
		if n > 0 {
			paints = append(paints, p)
		}
	}
	slices.SortStableFunc(paints, func(a, b int) int { return cmp.Compare(uses[b], uses[a]) })
	paints = paints[:min(len(paints), most)]
	slices.Sort(paints)
	return paints
}

// kitchen lays out some of the paints.
func (w *wide) kitchen(some []int, limits Limits) (*Kitchen, error) {
	paints := make([]film.Paint, len(some))
	for i, p := range some {
		paints[i] = w.paints[p]
	}
	return NewKitchen(paints, w.opt, limits)
}

// planOf plans with some of the paints.
func (w *wide) planOf(ctx context.Context, some []int, limits Limits, targets []Target) (Plan, error) {
	k, err := w.kitchen(some, limits)
	if err != nil {
		return Plan{}, err
	}
	out, err := k.Plan(ctx, targets)
	for i := range out.Prepared {
		out.Prepared[i].Ingredient = out.Prepared[i].of(some)
	}
	for i := range out.Recipes {
		out.Recipes[i].of(some)
	}
	return out, err
}

// of takes the paints of a recipe for places in a list.
func (r *Recipe) of(list []int) {
	for i := range r.Parts {
		r.Parts[i].Ingredient = r.Parts[i].Ingredient.of(list)
	}
}

// of is the ingredient with its paints taken for places in a list.
func (i Ingredient) of(list []int) Ingredient {
	i.Paint = list[i.Paint]
	if i.LetDown() {
		i.Into = list[i.Into]
	}
	return i
}
