package recipe_test

import (
	"math/rand/v2"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
)

func newTable(t testing.TB, paints []film.Paint, targets []recipe.Target, limits recipe.Limits) *recipe.Table {
	t.Helper()
	table, err := recipe.NewTable(paints, gamut.Options{Surface: film.Dry}, limits, targets)
	if err != nil {
		t.Fatal(err)
	}
	return table
}

// A table counts what a plan prints, whatever it was asked before, and what going
// through every recipe finds.
func TestPlainRecipesAreThoseOfAPlan(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 1))
	pool, targets := draw(rng, acrylics(t), 9, 16)
	table := newTable(t, pool, targets, recipe.Limits{})
	total := 0
	for range 40 {
		palette := set.New(len(pool))
		for range 1 + rng.IntN(5) {
			palette.Add(rng.IntN(len(pool)))
		}
		var paints []film.Paint
		for _, p := range palette.Members() {
			paints = append(paints, pool[p])
		}
		got, err := table.PlainRecipes(t.Context(), palette)
		if err != nil {
			t.Fatal(err)
		}
		printed, counted := 0, 0
		for _, r := range plan(t, paints, targets, recipe.Limits{}).Recipes {
			if r.Kind == recipe.Straight && r.Within {
				printed++
			}
		}
		o := oracle{paints, 4, recipe.DefaultTotal}
		served := make([]bool, len(targets))
		o.each(nil, 0, anything, func(f *found) {
			for i, target := range targets {
				if !served[i] {
					_, served[i] = o.serves(f, target.Lab, target.Tolerance)
				}
			}
		})
		for _, yes := range served {
			if yes {
				counted++
			}
		}
		if got != printed || got != counted {
			t.Errorf("%v: %d plain recipes, %d printed, %d by going through all", palette.Members(), got, printed, counted)
		}
		total += got
	}
	if total < 40 {
		t.Errorf("%d plain recipes: the cases do not try the count", total)
	}
}

// BenchmarkPlainRecipes counts those of 64 palettes of five tubes for the demo.
func BenchmarkPlainRecipes(b *testing.B) {
	all, err := catalog.Builtin()
	if err != nil {
		b.Fatal(err)
	}
	_, targets := demo(b)
	var paints []film.Paint
	white := 0
	for i, tube := range all.Tubes() {
		paints = append(paints, tube.Paint)
		if tube.ID == "titanium-white" {
			white = i
		}
	}
	for b.Loop() {
		table := newTable(b, paints, targets, recipe.Limits{})
		rng := rand.New(rand.NewPCG(64, 5))
		for range 64 {
			palette := set.Of(len(paints), white)
			for palette.Len() < 5 {
				palette.Add(rng.IntN(len(paints)))
			}
			if _, err := table.PlainRecipes(b.Context(), palette); err != nil {
				b.Fatal(err)
			}
		}
	}
}
