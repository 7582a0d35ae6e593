package gamut

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// grid steps of added volume for one volume of pile.
var gridSteps = []float64{0, 0.01, 0.02, 0.04, 0.07, 0.1, 0.15, 0.2, 0.3, 0.45, 0.7, 1, 1.5, 2, 3}

// bestAddition tries every addition on the grid: the nearest, and the least
// that is within the tolerance.
func bestAddition(m *Mixer, pile Pile, target colour.Lab, palette []int, tolerance float64) (nearest, least float64) {
	nearest, least = math.Inf(1), math.Inf(1)
	list := append(append([]int(nil), pile.Paints...), palette...)
	amounts := append(append([]float64(nil), pile.Amounts...), make([]float64, len(palette))...)
	first := len(pile.Paints)
	total := 0.0
	for _, a := range pile.Amounts {
		total += a
	}
	var rec func(i int, added float64)
	rec = func(i int, added float64) {
		if i == len(palette) {
			de := colour.DE2000(m.Evaluate(list, amounts), target)
			nearest = min(nearest, de)
			if de <= tolerance {
				least = min(least, added)
			}
			return
		}
		for _, g := range gridSteps {
			amounts[first+i] = g * total
			rec(i+1, added+g)
		}
	}
	rec(0, 0)
	return nearest, least
}

// 300 seeded piles against an exhaustive grid of additions.
func TestCorrectAgainstGrid(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(71, 72))
	reached := 0
	for range 300 {
		palette := samples.Palette(m.Len(), 3, 3, rng)
		pile := Pile{Paints: samples.Palette(m.Len(), 2, 2, rng), Amounts: []float64{1 + rng.Float64(), 1 + 3*rng.Float64()}}
		list := append(append([]int(nil), pile.Paints...), palette[:2]...)
		target := m.Evaluate(list, append(append([]float64(nil), pile.Amounts...), rng.ExpFloat64(), rng.ExpFloat64()/2))
		target.A += 2 * rng.NormFloat64()
		target.B += 2 * rng.NormFloat64()
		const tolerance = 2
		c, err := m.Correct(pile, target, set.Of(m.Len(), palette...), tolerance)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range c.Amounts {
			if a <= 0 {
				t.Fatalf("paint is taken away: %+v", c)
			}
		}
		all, amounts := append(append([]int(nil), pile.Paints...), c.Paints...), append(append([]float64(nil), pile.Amounts...), c.Amounts...)
		if got := m.Evaluate(all, amounts); colour.DE2000(got, c.Lab) > 1e-9 {
			t.Fatalf("%+v evaluates to %v", c, got)
		}
		nearest, least := bestAddition(m, pile, target, palette, tolerance)
		if nearest <= tolerance && !c.Reached || !c.Reached && c.DE > nearest+0.05 {
			t.Errorf("%v to %v: %+v, the grid comes to %.3f", pile, target, c, nearest)
		}
		if c.Reached && c.Added > least*1.01+1e-3 {
			t.Errorf("%v to %v: %.4f added, the grid adds %.4f", pile, target, c.Added, least)
		}
		if c.Reached {
			reached++
		}
	}
	t.Logf("%d of 300 reached", reached)
}

// What is added is one paint more than a mix may hold at most, however much a
// third would help.
func TestCorrectAddsFewPaints(t *testing.T) {
	_, paints := acrylics(t)
	m := mustMixer(t, paints, Options{Surface: film.Dry, PaintsPerMix: 1})
	rng := rand.New(rand.NewPCG(73, 74))
	most := 0
	for range 20 {
		pile := Pile{Paints: samples.Palette(m.Len(), 2, 2, rng), Amounts: []float64{1, 1}}
		c, err := m.Correct(pile, samples.Mix(m, set.Full(m.Len()).Members(), rng), set.Full(m.Len()), 0)
		if err != nil {
			t.Fatal(err)
		}
		most = max(most, len(c.Paints))
	}
	if most != 2 {
		t.Errorf("up to %d paints are added where a mix holds one", most)
	}
}

func TestCorrectAddsNothingWhenThere(t *testing.T) {
	m := acrylicMixer(t)
	pile := Pile{Paints: []int{3, 8}, Amounts: []float64{1, 2}}
	c, err := m.Correct(pile, m.Evaluate(pile.Paints, pile.Amounts), set.Full(m.Len()), 1)
	if err != nil || len(c.Paints) != 0 || c.DE > 1e-9 || !c.Reached || c.AfreshLess {
		t.Errorf("%+v, %v", c, err)
	}
}

// A pile seen lighter than predicted wants the more of the darker paint.
func TestCorrectFollowsWhatWasSeen(t *testing.T) {
	names, _ := acrylics(t)
	m := acrylicMixer(t)
	p := named(t, names, "ultramarine blue", "titanium white")
	pile := Pile{Paints: p, Amounts: []float64{1, 4}}
	target := m.Evaluate(p, []float64{1.2, 4})
	plain, err := m.Correct(pile, target, set.Of(m.Len(), p...), 0.1)
	if err != nil {
		t.Fatal(err)
	}
	seen := m.Evaluate(p, []float64{1, 4})
	seen.L += 2
	pile.Seen = &seen
	shifted, err := m.Correct(pile, target, set.Of(m.Len(), p...), 0.1)
	if err != nil {
		t.Fatal(err)
	}
	if !plain.Reached || math.Abs(plain.Amounts[0]-0.2) > 0.02 || len(shifted.Paints) == 0 || shifted.Amounts[0] <= plain.Amounts[0] {
		t.Errorf("plain %+v\nshifted %+v", plain, shifted)
	}
	nearest := math.Inf(1)
	for i := range 10000 {
		lab := m.Evaluate(p, []float64{float64(i) + 0.5, 10000 - float64(i)})
		lab.L += 2
		nearest = min(nearest, colour.DE2000(lab, target))
	}
	made := m.Evaluate(shifted.Afresh.Paints, shifted.Afresh.Shares)
	made.L += 2
	if colour.DE2000(made, shifted.Afresh.Lab) > 1e-9 || math.Abs(colour.DE2000(made, target)-shifted.Afresh.DE) > 1e-9 || shifted.Afresh.DE > nearest+0.05 {
		t.Errorf("afresh %+v will be seen as %v; the nearest comes to %.3f", shifted.Afresh, made, nearest)
	}
}

func TestCorrectSaysAfresh(t *testing.T) {
	names, _ := acrylics(t)
	m := acrylicMixer(t)
	p := named(t, names, "bone black", "titanium white", "phthalo blue green shade")
	target := m.Evaluate(p[1:2], []float64{1})
	c, err := m.Correct(Pile{Paints: p[:1], Amounts: []float64{1}}, target, set.Of(m.Len(), p...), 2)
	if err != nil || c.Reached || !c.AfreshLess || c.Afresh.DE > 1e-6 {
		t.Errorf("%+v, %v", c, err)
	}
	if _, err := m.Correct(Pile{}, target, set.Full(m.Len()), 1); !errors.Is(err, ErrPile) {
		t.Errorf("an empty pile: %v", err)
	}
}
