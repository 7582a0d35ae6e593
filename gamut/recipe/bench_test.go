package recipe_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
)

// BenchmarkPlan is 24 colours mixed from a palette, with the choice of three
// prepared piles.
func BenchmarkPlan(b *testing.B) {
	for _, tubes := range []int{5, 7} {
		b.Run(fmt.Sprint(tubes, " tubes"), func(b *testing.B) {
			paints, targets := draw(rand.New(rand.NewPCG(7, 24)), acrylics(b), tubes, 24)
			for b.Loop() {
				k, err := recipe.NewKitchen(paints, gamut.Options{Surface: film.Dry}, recipe.Limits{Prepared: recipe.MostPrepared})
				if err != nil {
					b.Fatal(err)
				}
				if _, err := k.Plan(b.Context(), targets); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
