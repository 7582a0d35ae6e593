package recipe_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
)

// Of all 19 paints, more than are counted out, nearly every colour that six of them
// mix gets a recipe within its tolerance, and each holds to the measures.
func TestPlanOfManyTubes(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 19))
	all := acrylics(t)
	_, targets := draw(rng, all, 6, 12)
	p := plan(t, all, targets, recipe.Limits{Prepared: 2})
	o := oracle{all, 4, recipe.DefaultTotal}
	within, letDown := 0, 0
	for i := range p.Recipes {
		r := &p.Recipes[i]
		checkMeasures(t, &o, r, targets[i])
		if r.Within {
			within++
		}
		if r.Kind == recipe.OwnLetDown {
			letDown++
		}
	}
	t.Logf("%d of %d within, %d with a let-down of their own", within, len(targets), letDown)
	if within < 11 {
		t.Errorf("%d of %d within", within, len(targets))
	}
}

// The first way is the plainest; what comes within stands before what does not, and
// the nearer of those first.
func TestWays(t *testing.T) {
	all := acrylics(t)
	several := 0
	for seed := range uint64(20) {
		rng := rand.New(rand.NewPCG(seed, 4))
		n := 4
		if seed%5 == 4 {
			n = len(all)
		}
		paints, targets := draw(rng, all, n, 1)
		k, err := recipe.NewKitchen(paints, gamut.Options{Surface: film.Dry}, recipe.Limits{Prepared: 3})
		if err != nil {
			t.Fatal(err)
		}
		ways, err := k.Ways(t.Context(), targets[0], 5)
		if err != nil || len(ways) == 0 {
			t.Fatal(ways, err)
		}
		if len(ways) > 1 {
			several++
		}
		o := oracle{paints, 4, recipe.DefaultTotal}
		for i := range ways {
			checkMeasures(t, &o, &ways[i], targets[0])
			if ways[i].Kind == recipe.Prepared {
				t.Errorf("something is prepared for one colour: %+v", ways[i])
			}
			if i > 0 && (ways[i].Within && !ways[i-1].Within || !ways[i].Within && !ways[i-1].Within && ways[i].DE < ways[i-1].DE) {
				t.Errorf("seed %d: %+v after %+v", seed, ways[i], ways[i-1])
			}
		}
		if n < len(all) {
			p := plan(t, paints, targets, recipe.Limits{})
			if !slices.Equal(p.Recipes[0].Parts, ways[0].Parts) {
				t.Errorf("seed %d: the plan has %+v, the first way is %+v", seed, p.Recipes[0], ways[0])
			}
		}
	}
	if several < 10 {
		t.Errorf("%d of 20 colours have another way", several)
	}
}

// Whites take the least light away and so are never let down in a colour; phthalo
// blue is stronger than ultramarine and cobalt blue (common practice, no source).
func TestStrength(t *testing.T) {
	all := acrylics(t)
	strength := func(i int) float64 { return recipe.Strength(&all[i]) }
	const phthalo, cobalt, ultramarine, white = 0, 2, 3, 15
	for i := range all {
		if i != white && strength(i) <= strength(white) {
			t.Errorf("paint %d is weaker than white", i)
		}
	}
	if !(strength(phthalo) > strength(ultramarine) && strength(ultramarine) > strength(cobalt)) {
		t.Error(strength(phthalo), strength(ultramarine), strength(cobalt))
	}
}
