package mixing

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
)

// Three hundred seeded piles of the built-in tubes: nothing is ever taken away,
// the numbers are those of the pile and its additions, and the result is within
// half a unit of the best addition on a grid.
func TestCorrectAgainstGrid(t *testing.T) {
	table := tableOf(t, 0, landscape...)
	rng := rand.New(rand.NewPCG(9, 300))
	worst, reached := math.Inf(-1), 0
	for range 300 {
		have := randomAmounts(rng, landscape, 2)
		var palette []string
		for _, i := range rng.Perm(len(landscape))[:3] {
			palette = append(palette, landscape[i])
		}
		// Most targets are within reach of some addition, some are not.
		want := seenPlainly(table, sum(have, Amount{palette[0], rng.ExpFloat64()}, Amount{palette[1], rng.ExpFloat64() / 2}))
		want.A += rng.NormFloat64()
		want.L += rng.NormFloat64()
		c, err := table.Correct(have, want, nil, palette, exactTolerance)
		if err != nil {
			t.Fatal(err)
		}
		for _, a := range c.Add {
			if !(a.Parts > 0) {
				t.Fatalf("%v is taken away", a)
			}
		}
		if got := seenPlainly(table, sum(have, c.Add...)); colour.DE2000(got, c.Lab) > 1e-6 || math.Abs(colour.DE2000(got, want)-c.DE) > 1e-6 {
			t.Fatalf("%v and %v make %v, not %v", have, c.Add, got, c.Lab)
		}
		grid := bestOnGrid(table, have, want, palette)
		worst = max(worst, c.DE-grid)
		if c.DE > grid+0.5 {
			t.Errorf("%v to %v: %.3f by %v, %.3f on the grid", have, want, c.DE, c.Add, grid)
		}
		if c.Reached {
			reached++
		}
	}
	t.Logf("%d of 300 reached; at worst %.3f farther than the grid", reached, worst)
}

// sum adds amounts to a pile, tube by tube.
func sum(have []Amount, more ...Amount) []Amount {
	out := append([]Amount(nil), have...)
next:
	for _, m := range more {
		for i := range out {
			if out[i].ID == m.ID {
				out[i].Parts += m.Parts
				continue next
			}
		}
		out = append(out, m)
	}
	return out
}

// bestOnGrid is the least difference any addition on the grid leaves, in
// volumes to one of the pile.
func bestOnGrid(table *Table, have []Amount, want colour.Lab, palette []string) float64 {
	best, one := math.Inf(1), total(have)
	steps := []float64{0, 0.01, 0.03, 0.07, 0.12, 0.2, 0.35, 0.6, 1, 1.7, 3}
	for _, x := range steps {
		for _, y := range steps {
			for _, z := range steps {
				var add []Amount
				for i, v := range []float64{x, y, z} {
					if v > 0 {
						add = append(add, Amount{palette[i], v * one})
					}
				}
				best = min(best, colour.DE2000(table.Colour(sum(have, add...)), want))
			}
		}
	}
	return best
}

// The pile as seen moves every prediction by as much as it differs.
func TestCorrectFromWhatIsSeen(t *testing.T) {
	table := tableOf(t, 0, landscape...)
	have := []Amount{{"titanium-white", 6}, {"burnt-sienna", 1}}
	seen := table.Colour(have)
	seen.L -= 3
	c, err := table.Correct(have, seen, &seen, landscape, 1)
	if err != nil || len(c.Add) != 0 || !c.Reached || c.Afresh {
		t.Errorf("a pile seen right: %+v, %v", c, err)
	}
	c, err = table.Correct(have, table.Colour(have), &seen, landscape, 0.5)
	if err != nil || len(c.Add) == 0 || !c.Reached {
		t.Fatalf("a pile seen too dark: %+v, %v", c, err)
	}
	plain := seenPlainly(table, sum(have, c.Add...))
	if math.Abs(plain.L-3-c.Lab.L) > 1e-6 || math.Abs(plain.A-c.Lab.A) > 1e-6 {
		t.Errorf("%v is not %v moved by what was seen", c.Lab, plain)
	}
}

// A pile that is seen to fail is not proposed again: the new pile is foretold as
// the additions are, and its parts, worked out plainly and moved, come as near as is said.
func TestFreshPileFollowsWhatIsSeen(t *testing.T) {
	table := tableOf(t, 0, "ultramarine-blue", "yellow-ochre", "titanium-white", "cadmium-yellow-medium")
	have := []Amount{{"ultramarine-blue", 2}, {"yellow-ochre", 2}, {"titanium-white", 1}, {"cadmium-yellow-medium", 1}}
	seen, want := colour.Lab{L: 52, A: -9, B: 23}, colour.Lab{L: 50, A: -8, B: 6}
	c, err := table.Correct(have, want, &seen, []string{"ultramarine-blue", "yellow-ochre", "titanium-white", "cadmium-yellow-medium"}, 0.5)
	if err != nil || !c.WantsFresh() {
		t.Fatalf("%+v, %v", c, err)
	}
	fresh := map[string]float64{}
	var pile []Amount
	for _, p := range c.Fresh.Parts {
		fresh[p.ID] = float64(p.Parts)
		pile = append(pile, Amount{p.ID, float64(p.Parts)})
	}
	if fresh["yellow-ochre"] == fresh["ultramarine-blue"] && fresh["titanium-white"] == fresh["cadmium-yellow-medium"] && fresh["yellow-ochre"] == 2*fresh["titanium-white"] {
		t.Errorf("the new pile is the one that failed: %v", c.Fresh.Parts)
	}
	is, plain := table.Colour(have), seenPlainly(table, pile)
	moved := colour.Lab{L: plain.L + seen.L - is.L, A: plain.A + seen.A - is.A, B: plain.B + seen.B - is.B}
	if colour.DE2000(moved, c.Fresh.Lab) > 1e-6 || math.Abs(colour.DE2000(moved, want)-c.Fresh.DE) > 1e-6 {
		t.Errorf("the new pile will be seen as %v, not %v at %.2f", moved, c.Fresh.Lab, c.Fresh.DE)
	}
	if c.Fresh.bestDE() > 2 || c.Fresh.Free.DE > 1 {
		t.Errorf("the new pile misses: %+v", c.Fresh)
	}
}

// A little white cannot be got from much black.
func TestCorrectStartsAfresh(t *testing.T) {
	table := tableOf(t, 0, landscape...)
	have := []Amount{{"ivory-black", 5}, {"titanium-white", 1}}
	c, err := table.Correct(have, colour.Lab{L: 90, A: 0, B: 3}, nil, landscape, 2)
	if err != nil || !c.Afresh || c.Fresh.bestDE() > 3 {
		t.Errorf("%+v, %v", c, err)
	}
}

func TestThreeDigits(t *testing.T) {
	for _, x := range []struct{ v, down, up float64 }{{0.28714, 0.287, 0.288}, {12.345, 12.3, 12.4}, {0.000123456, 0.000123, 0.000124}} {
		if d, u := threeDigits(x.v, false), threeDigits(x.v, true); d != x.down || u != x.up {
			t.Errorf("%v: %v and %v", x.v, d, u)
		}
	}
}

// Without the blue that lies there no new pile would do; with it, one does as
// well as much more new paint on top.
func TestFreshPileMayTakeWhatLies(t *testing.T) {
	table := tableOf(t, 0, landscape...)
	have := []Amount{{"titanium-white", 2}, {"phthalo-blue-green-shade", 0.5}}
	c, err := table.Correct(have, colour.Lab{L: 70, A: -8, B: -20}, nil, []string{"titanium-white", "burnt-sienna", "ivory-black"}, 0.5)
	if err != nil || c.Added <= 1 || !c.Afresh || c.Fresh.bestDE() > c.DE+0.5 {
		t.Errorf("%+v, %v", c, err)
	}
}

// An addition that no knife can measure is left out where others do.
func TestCorrectLeavesOutTraces(t *testing.T) {
	table := tableOf(t, 0)
	var all []string
	for _, tube := range table.Tubes {
		all = append(all, tube.ID)
	}
	c, err := table.Correct([]Amount{{"titanium-white", 1}}, colour.Lab{L: 70, A: 10, B: 40}, nil, all, 0.5)
	if err != nil || !c.Reached {
		t.Fatalf("%+v, %v", c, err)
	}
	for _, a := range c.Add {
		if a.Parts < leastOfPile {
			t.Errorf("%v is a trace", a)
		}
	}
}

// What a hand may add, of one paint and then of two, makes the colour that is told
// for it, in whole parts and touches.
func TestMendIsWhatItSays(t *testing.T) {
	table := tableOf(t, 0, landscape...)
	rng := rand.New(rand.NewPCG(19, 7))
	ways := 0
	for range 40 {
		have := randomAmounts(rng, landscape, 2)
		for i := range have {
			have[i].Parts = float64(1 + rng.IntN(6))
		}
		goal := randomAmounts(rng, landscape, 2)
		for i := range goal {
			goal[i].Parts = float64(1 + rng.IntN(4))
		}
		want := table.Colour(goal)
		c, err := table.Mend(t.Context(), have, want, nil, landscape, DefaultTolerance)
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range c.Ways {
			ways++
			if i > 0 && len(w.Add) < len(c.Ways[i-1].Add) {
				t.Errorf("%v after %v", w.Add, c.Ways[i-1].Add)
			}
			for _, a := range w.Add {
				if a.Parts != math.Trunc(a.Parts) && a.Parts*4 != math.Trunc(a.Parts*4) {
					t.Errorf("%v: no part a knife measures", a)
				}
			}
			lab := table.Colour(append(append([]Amount{}, have...), w.Add...))
			if d := colour.DE2000(lab, w.Lab); d > 1e-9 {
				t.Errorf("%v to %v is %g from what is told", w.Add, have, d)
			}
			if w.DE >= c.LyingDE || c.DE > w.DE && !c.Reached {
				t.Errorf("%v comes to %v, the pile lies at %v, the best is said to be %v", w.Add, w.DE, c.LyingDE, c.DE)
			}
		}
	}
	if ways < 30 {
		t.Errorf("%d ways", ways)
	}
}
