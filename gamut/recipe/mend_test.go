package recipe_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
)

// One paint and two, against trying every amount in plain code, on seeded piles,
// some of them seen otherwise than they are predicted.
func TestMendIsTheFewestParts(t *testing.T) {
	all := acrylics(t)
	ones, twos := 0, 0
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 6))
		paints, targets := draw(rng, all, 4, 1)
		target := targets[0]
		target.Tolerance = 2
		m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry})
		if err != nil {
			t.Fatal(err)
		}
		pile := gamut.Pile{Paints: []int{0, 2}, Amounts: []float64{float64(1 + rng.IntN(6)), float64(1 + rng.IntN(3))}}
		is := m.Evaluate(pile.Paints, pile.Amounts)
		var shift colour.Lab
		if seed%3 == 0 {
			shift = colour.Lab{L: 2, A: -1, B: 3}
			pile.Seen = &colour.Lab{L: is.L + shift.L, A: is.A + shift.A, B: is.B + shift.B}
		}
		total := pile.Amounts[0] + pile.Amounts[1]
		after := func(added []float64) float64 {
			lab := m.Evaluate([]int{0, 2, 0, 1, 2, 3}, append([]float64{pile.Amounts[0], pile.Amounts[1]}, added...))
			return colour.DE2000(colour.Lab{L: lab.L + shift.L, A: lab.A + shift.A, B: lab.B + shift.B}, target.Lab)
		}
		lying := after(make([]float64, 4))
		amounts := []float64{1, 2, 3, 4, 5, 6, 7, 8}
		for n := 9.0; n <= math.Ceil(total); n++ {
			amounts = append(amounts, n)
		}
		if total >= 4 {
			amounts = append(amounts, 0.25, 0.5, 0.75)
		}
		// best is the fewest parts within the tolerance, or else the least difference.
		best := func(two bool, limit float64) (parts, de float64, within, ok bool) {
			parts, de = math.Inf(1), math.Inf(1)
			try := func(added []float64, sum float64) {
				d := after(added)
				in := d <= target.Tolerance
				if d > limit || within && !in {
					return
				}
				if in && !within || in && sum < parts || in && sum == parts && d < de || !in && d < de {
					parts, de, within, ok = sum, d, in, true
				}
			}
			for i := range paints {
				for _, a := range amounts {
					added := make([]float64, 4)
					added[i] = a
					if !two {
						try(added, a)
						continue
					}
					for k := i + 1; k < len(paints); k++ {
						for _, b := range amounts {
							pair := append([]float64(nil), added...)
							pair[k] = b
							try(pair, a+b)
						}
					}
				}
			}
			return parts, de, within, ok
		}
		one, two, err := recipe.Mend(m, pile, target, set.Full(len(paints)))
		if err != nil {
			t.Fatal(err)
		}
		limit := lying
		check := func(got recipe.Addition, isTwo bool) {
			parts, de, within, ok := best(isTwo, limit)
			if ok != (len(got.Parts) > 0) || !ok {
				if ok {
					t.Errorf("seed %d: %v parts would come to %v, but nothing is offered", seed, parts, de)
				}
				return
			}
			if got.Within != within || math.Abs(got.DE-de) > 1e-9 || within && got.Total() != parts {
				t.Errorf("seed %d, two %v: %+v, but %v parts come to %v", seed, isTwo, got, parts, de)
			}
		}
		check(one, false)
		if len(one.Parts) > 0 {
			ones++
			limit = one.DE - 0.5
		}
		check(two, true)
		if len(two.Parts) > 0 {
			twos++
		}
	}
	if ones < 20 || twos < 10 {
		t.Errorf("%d and %d additions: the piles do not try it", ones, twos)
	}
}

func TestMendRefuses(t *testing.T) {
	m, err := gamut.NewMixer(threePaints(), gamut.Options{Surface: film.Dry})
	if err != nil {
		t.Fatal(err)
	}
	for _, pile := range []gamut.Pile{{}, {Paints: []int{0}}, {Paints: []int{3}, Amounts: []float64{1}}, {Paints: []int{0}, Amounts: []float64{math.NaN()}}} {
		if _, _, err := recipe.Mend(m, pile, recipe.Target{Tolerance: 2}, set.Full(3)); !errors.Is(err, recipe.ErrPile) {
			t.Errorf("%v: %v", pile, err)
		}
	}
}
