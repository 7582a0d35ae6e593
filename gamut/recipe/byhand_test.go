package recipe_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
)

// byHand lays out paints, of which the first is the white.
func byHand(t *testing.T, paints []film.Paint, targets []recipe.Target, limits recipe.Limits) *recipe.ByHand {
	t.Helper()
	h, err := recipe.NewByHand(paints, gamut.Options{Surface: film.Dry}, limits, targets)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// isByHand tells of a recipe of the oracle whether a hand makes it of tubes of which
// these are white.
func isByHand(f *found, whites set.Set) bool {
	held := map[int]bool{}
	for i, in := range f.items {
		held[in.Paint] = true
		if in.LetDown() {
			held[in.Into] = true
			if in.Ratio != 10 || !whites.Has(in.Into) || whites.Has(in.Paint) || f.quarters[i] == 1 {
				return false
			}
		}
	}
	white := 0
	for p := range held {
		if whites.Has(p) {
			white++
		}
	}
	return white <= 1 && len(held)-white <= 3
}

// The least sets of tubes, and the nearest mixes where there are none, by going
// through every recipe: on 30 seeded palettes of up to ten tubes, every third with a
// paint let down.
func TestByHandCountsEveryRecipe(t *testing.T) {
	all := acrylics(t)
	sets, misses := 0, 0
	for seed := range uint64(bounded.Cases(t, 12, 30)) {
		rng := rand.New(rand.NewPCG(seed, 19))
		paints, targets := draw(rng, all, 4+int(seed%7), 5)
		limits := recipe.Limits{Total: 5, Hand: &recipe.Hand{Whites: set.Of(len(paints), 0), LetsIn: seed%3 == 0}}
		if limits.Hand.LetsIn {
			paints = paints[:min(len(paints), 5)]
		}
		if seed%5 == 0 {
			limits.Hand.Whites.Add(1)
		}
		o := oracle{paints, 4, limits.Total}
		serving := make([][]set.Set, len(targets))
		nearest := slices.Repeat([]float64{math.Inf(1)}, len(targets))
		note := func(f *found) {
			if !isByHand(f, limits.Hand.Whites) {
				return
			}
			held := set.New(len(paints))
			for _, in := range f.items {
				held.Add(in.Paint)
				if in.LetDown() {
					held.Add(in.Into)
				}
			}
			for i, target := range targets {
				_, ok := o.serves(f, target.Lab, target.Tolerance)
				if ok {
					serving[i] = append(serving[i], held)
				}
				if ok || !slices.Contains(f.quarters, 1) {
					nearest[i] = min(nearest[i], colour.DE2000(f.lab, target.Lab))
				}
			}
		}
		o.each(nil, 0, anything, note)
		if limits.Hand.LetsIn {
			piles := slices.DeleteFunc(o.piles(), func(in recipe.Ingredient) bool {
				return in.Ratio != 10 || !limits.Hand.Whites.Has(in.Into)
			})
			o.each(piles, 1, anything, note)
		}
		h := byHand(t, paints, targets, limits)
		whole := set.Full(len(paints))
		for i := range targets {
			got, err := h.Least(t.Context(), i, whole)
			if err != nil {
				t.Fatal(err)
			}
			sets += len(got)
			for _, s := range serving[i] {
				if !slices.ContainsFunc(got, func(g []int) bool { return set.Of(len(paints), g...).SubsetOf(s) }) {
					t.Errorf("seed %d: %v serves %v and is not listed", seed, s.Members(), targets[i])
				}
			}
			for k, g := range got {
				one := set.Of(len(paints), g...)
				if !slices.ContainsFunc(serving[i], one.Equal) {
					t.Errorf("seed %d: %v is listed and serves no %v", seed, g, targets[i])
				}
				for _, other := range got[:k] {
					if set.Of(len(paints), other...).SubsetOf(one) {
						t.Errorf("seed %d: %v and %v are listed", seed, other, g)
					}
				}
			}
			mix, ok := h.Serves(t.Context(), i, whole)
			if ok != (len(serving[i]) > 0) || ok && mix.DE > targets[i].Tolerance {
				t.Errorf("seed %d: %v is served is %v, by %v", seed, targets[i], ok, mix)
			}
			if near := h.Nearest(i, whole); math.Abs(near.DE-nearest[i]) > same {
				t.Errorf("seed %d: the nearest to %v comes to %v, not %v", seed, targets[i], nearest[i], near.DE)
			}
			if !ok {
				misses++
			}
		}
	}
	t.Log(sets, "sets,", misses, "misses")
	if sets < bounded.Cases(t, 20, 100) || misses < bounded.Cases(t, 12, 30) || misses > bounded.Cases(t, 48, 120) {
		t.Errorf("%d sets, %d misses: the cases do not try the count", sets, misses)
	}
}

// A plan by hand serves just the targets that the lists do, by nothing else.
func TestPlanByHand(t *testing.T) {
	all := acrylics(t)
	kinds := map[recipe.Kind]int{}
	for seed := range uint64(12) {
		rng := rand.New(rand.NewPCG(seed, 20))
		paints, targets := draw(rng, all, 4+int(seed%3), 8)
		limits := recipe.Limits{Hand: &recipe.Hand{Whites: set.Of(len(paints), 0), LetsIn: seed%2 == 0}}
		if limits.Hand.LetsIn {
			limits.Prepared = int(seed%4) / 2
		}
		h, o := byHand(t, paints, targets, limits), oracle{paints, 4, recipe.DefaultTotal}
		p := plan(t, paints, targets, limits)
		for i := range p.Recipes {
			r := &p.Recipes[i]
			checkMeasures(t, &o, r, targets[i])
			q, items := quartersOf(r)
			if f := (&found{items: items, quarters: q}); r.Kind != recipe.Prepared && !isByHand(f, limits.Hand.Whites) {
				t.Errorf("seed %d: %+v is not by hand", seed, r)
			}
			if _, ok := h.Serves(t.Context(), i, set.Full(len(paints))); ok != r.Within {
				t.Errorf("seed %d: %v is served is %v, but %+v", seed, targets[i], ok, r)
			}
			kinds[r.Kind]++
		}
	}
	if t.Log(kinds); kinds[recipe.Straight] < 20 || kinds[recipe.Prepared] == 0 || kinds[recipe.OwnLetDown] == 0 {
		t.Errorf("%v: the cases do not try the rule", kinds)
	}
}
