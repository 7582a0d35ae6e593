package recipe_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
)

func TestStringValues(t *testing.T) {
	for _, c := range []struct {
		lightness, darkest, lightest float64
		want                         []float64
	}{
		{50, 10, 96, []float64{30, 40, 50, 60, 70}},
		{25, 20, 96, []float64{25, 35, 45, 55, 65}},
		{36, 20, 96, []float64{26, 36, 46, 56, 66}},
		{90, 10, 96, []float64{50, 60, 70, 80, 90}},
		{50, 40, 60, []float64{40, 45, 50, 55, 60}},
		{50, 50, 50, []float64{50, 50, 50, 50, 50}},
	} {
		got := recipe.StringValues(c.lightness, len(c.want), c.darkest, c.lightest)
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }) {
			t.Errorf("of %v between %v and %v: %v, not %v", c.lightness, c.darkest, c.lightest, got, c.want)
		}
	}
}

// stringCase is a seeded pile, the colour whose hue is kept, and lighter values.
func stringCase(t *testing.T, seed uint64) (paints []film.Paint, pile gamut.Pile, target recipe.Target, values []float64) {
	rng := rand.New(rand.NewPCG(seed, 21))
	paints, _ = draw(rng, acrylics(t), 5, 0)
	pile = gamut.Pile{Paints: []int{1, 2}, Amounts: []float64{float64(1 + rng.IntN(4)), float64(1 + rng.IntN(4))}}
	var sum film.Paint
	film.Mix(&sum, []film.Paint{paints[1], paints[2]}, pile.Amounts)
	seen := sum.Masstone(film.Dry)
	target = recipe.Target{Lab: colour.D65().Lab(&seen), Tolerance: 3}
	for n := 1.0; n <= 4; n++ {
		values = append(values, target.Lab.L+float64(n*recipe.StringStep))
	}
	return paints, pile, target, values
}

// Every mix of a string, put together anew from what is printed: so many parts of the
// mix before and an addition.
func TestValueStringIsWhatItSays(t *testing.T) {
	steps, within := 0, 0
	for seed := range uint64(40) {
		paints, pile, target, values := stringCase(t, seed)
		m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry, PaintsPerMix: 4})
		if err != nil {
			t.Fatal(err)
		}
		found, err := recipe.ValueString(m, pile, target, values, set.Full(len(paints)), recipe.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		var before film.Paint
		total := pile.Amounts[0] + pile.Amounts[1]
		film.Mix(&before, []film.Paint{paints[1], paints[2]}, []float64{pile.Amounts[0] / total, pile.Amounts[1] / total})
		held := map[int]bool{1: true, 2: true}
		for i, s := range found {
			added := s.Add.Volume()
			whole := float64(s.Before) + added
			if s.Before < 1 || s.Before > 8 || added > 8 || whole > recipe.DefaultTotal || s.Add.LetDown() || s.Add.Touch() && s.Before < 4 {
				t.Errorf("seed %d: no hand measures %d parts and %v", seed, s.Before, added)
			}
			var now film.Paint
			film.Mix(&now, []film.Paint{before, paints[s.Add.Paint]}, []float64{float64(s.Before) / whole, added / whole})
			seen := now.Masstone(film.Dry)
			lab := colour.D65().Lab(&seen)
			if d := colour.DE2000(lab, s.Lab); d > 1e-6 {
				t.Errorf("seed %d, mix %d: %v is %v", seed, i, s.Lab, lab)
			}
			goal := target.Lab.LCh()
			goal.L, goal.C = values[i], max(goal.C/4, min(goal.C, lab.LCh().C))
			if de := colour.DE2000(lab, goal.Lab()); math.Abs(de-s.DE) > 1e-6 || s.Within != (s.DE <= target.Tolerance) {
				t.Errorf("seed %d, mix %d: %v off, said %v", seed, i, de, s.DE)
			}
			if held[s.Add.Paint] = true; len(held) > 4 {
				t.Errorf("seed %d: %d paints", seed, len(held))
			}
			before = now
			if steps++; s.Within {
				within++
			}
		}
	}
	if steps < 80 || within < 30 {
		t.Errorf("of 160 mixes %d were made, %d within: too few to tell", steps, within)
	}
	t.Logf("%d of 160 mixes, %d within the tolerance", steps, within)
}

// One addition comes within the tolerance wherever any whole parts do, by trying all in plain code.
func TestValueStringServesWhereItCan(t *testing.T) {
	for seed := range uint64(12) {
		paints, pile, target, values := stringCase(t, seed)
		m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry, PaintsPerMix: 4})
		if err != nil {
			t.Fatal(err)
		}
		found, err := recipe.ValueString(m, pile, target, values[:1], set.Full(len(paints)), recipe.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		hue := target.Lab.LCh()
		least := math.Inf(1)
		for p := range paints {
			for before := 1.0; before <= 8; before++ {
				for added := 1.0; added <= 8 && before+added <= 12; added++ {
					total := pile.Amounts[0] + pile.Amounts[1]
					lab := m.Evaluate([]int{1, 2, p}, []float64{pile.Amounts[0] * before / total, pile.Amounts[1] * before / total, added})
					goal := colour.LCh{L: values[0], C: max(hue.C/4, min(hue.C, lab.LCh().C)), H: hue.H}
					least = min(least, colour.DE2000(lab, goal.Lab()))
				}
			}
		}
		if reached := least <= target.Tolerance; len(found) == 0 && reached || len(found) > 0 && reached && !found[0].Within {
			t.Errorf("seed %d: %v is possible, found %+v", seed, least, found)
		}
	}
}
