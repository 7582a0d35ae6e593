package recipe_test

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
)

// baseCase is a seeded palette, two bases of it and colours near what they lead to.
func baseCase(t *testing.T, seed uint64, colours int) (paints []film.Paint, bases []recipe.Base, targets []recipe.Target) {
	rng := rand.New(rand.NewPCG(seed, 33))
	paints, targets = draw(rng, acrylics(t), 5, colours)
	bases = []recipe.Base{
		{Paints: []int{0, 1}, Parts: []int{1 + rng.IntN(3), 1 + rng.IntN(3)}},
		{Paints: []int{0, 2, 3}, Parts: []int{2, 1, 1 + rng.IntN(2)}},
	}
	return paints, bases, targets
}

// pileOf is a base as one paint.
func pileOf(paints []film.Paint, b recipe.Base) (out film.Paint) {
	total := 0
	for _, n := range b.Parts {
		total += n
	}
	var mixed []film.Paint
	var shares []float64
	for i, p := range b.Paints {
		mixed, shares = append(mixed, paints[p]), append(shares, float64(b.Parts[i])/float64(total))
	}
	film.Mix(&out, mixed, shares)
	return out
}

// mixed is the colour of parts of paints, through package film alone.
func mixed(paints []film.Paint, parts []float64) colour.Lab {
	total := 0.0
	for _, n := range parts {
		total += n
	}
	shares := make([]float64, len(parts))
	for i, n := range parts {
		shares[i] = n / total
	}
	var sum film.Paint
	film.Mix(&sum, paints, shares)
	seen := sum.Masstone(film.Dry)
	return colour.D65().Lab(&seen)
}

// Every colour made from a base, put together anew; and the fewest additions of whole parts
// in plain code serve no colour that was given up or takes more.
func TestVaryIsTheFewestAdditions(t *testing.T) {
	made, additions := 0, [3]int{}
	for seed := range uint64(12) {
		paints, bases, targets := baseCase(t, seed, 6)
		m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry})
		if err != nil {
			t.Fatal(err)
		}
		found, err := recipe.Vary(context.Background(), m, bases, targets, set.Full(len(paints)), recipe.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		for i, v := range found {
			easily, within := least(paints, bases, targets[i])
			fewest := within
			if easily <= 2 {
				fewest = easily
			}
			if v.Take == 0 {
				if fewest <= 2 {
					t.Errorf("seed %d, colour %d: %d additions serve, none found", seed, i, fewest)
				}
				continue
			}
			made++
			additions[len(v.Add)]++
			all, parts, total := []film.Paint{pileOf(paints, bases[v.Base])}, []float64{float64(v.Take)}, float64(v.Take)
			touches := false
			for _, a := range v.Add {
				all, parts, total = append(all, paints[a.Paint]), append(parts, a.Volume()), total+a.Volume()
				touches = touches || a.Touch()
			}
			lab := mixed(all, parts)
			if colour.DE2000(lab, v.Lab) > 1e-6 || math.Abs(colour.DE2000(lab, targets[i].Lab)-v.DE) > 1e-6 || v.DE > targets[i].Tolerance {
				t.Errorf("seed %d, colour %d: %+v is %v", seed, i, v, lab)
			}
			if total > recipe.DefaultTotal || v.Take > 8 || touches && total < 4 {
				t.Errorf("seed %d, colour %d: no hand measures %+v", seed, i, v)
			}
			if v.DE <= recipe.Easily(targets[i].Tolerance) && len(v.Add) > easily || v.DE > recipe.Easily(targets[i].Tolerance) && (easily <= 2 || len(v.Add) > within) {
				t.Errorf("seed %d, colour %d: %d additions at %v, %d serve easily and %d within", seed, i, len(v.Add), v.DE, easily, within)
			}
		}
	}
	if made < 20 || additions[1] == 0 || additions[2] == 0 {
		t.Errorf("%d made, by additions %v: too few to tell", made, additions)
	}
}

// least is the fewest additions in whole parts that come within two thirds of the tolerance,
// and within it; 3 where none do.
func least(paints []film.Paint, bases []recipe.Base, target recipe.Target) (easily, within int) {
	easily, within = 3, 3
	see := func(added int, lab colour.Lab) {
		de := colour.DE2000(lab, target.Lab)
		if de <= recipe.Easily(target.Tolerance) {
			easily = min(easily, added)
		}
		if de <= target.Tolerance {
			within = min(within, added)
		}
	}
	for _, b := range bases {
		pile := pileOf(paints, b)
		see(0, mixed([]film.Paint{pile}, []float64{1}))
		for p := range paints {
			for n := 1.0; n <= 8; n++ {
				for x := 1.0; x <= 8 && n+x <= 12; x++ {
					see(1, mixed([]film.Paint{pile, paints[p]}, []float64{n, x}))
					for q := p + 1; q < len(paints); q++ {
						for y := 1.0; y <= 8 && n+x+y <= 12; y++ {
							see(2, mixed([]film.Paint{pile, paints[p], paints[q]}, []float64{n, x, y}))
						}
					}
				}
			}
		}
	}
	return easily, within
}

// One proposed base saves as much as any, by varying all of them one by one.
func TestProposeSavesMost(t *testing.T) {
	proposed := 0
	for seed := range uint64(6) {
		paints, _, targets := baseCase(t, seed, 12)
		paints = paints[:3]
		m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry, PaintsPerMix: 2})
		if err != nil {
			t.Fatal(err)
		}
		handled := make([]int, len(targets))
		for i := range handled {
			handled[i] = 4
		}
		saved := func(b recipe.Base) int {
			found, err := recipe.Vary(context.Background(), m, []recipe.Base{b}, targets, set.Full(3), recipe.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			sum := -len(b.Paints)
			for i, v := range found {
				if v.Take > 0 && v.DE <= recipe.Easily(targets[i].Tolerance) {
					sum += handled[i] - 1 - len(v.Add)
				}
			}
			return sum
		}
		found, err := recipe.Propose(context.Background(), m, targets, handled, set.Full(3), recipe.Limits{Bases: 1})
		if err != nil {
			t.Fatal(err)
		}
		best := 0
		for i := range 7 {
			for j := range 7 - i {
				for k := range 7 - i - j {
					var b recipe.Base
					for p, n := range []int{i, j, k} {
						if n > 0 {
							b.Paints, b.Parts = append(b.Paints, p), append(b.Parts, n)
						}
					}
					if len(b.Paints) > 1 {
						best = max(best, saved(b))
					}
				}
			}
		}
		got := 0
		if len(found) > 0 {
			got = saved(found[0])
			proposed++
		}
		if got != best {
			t.Errorf("seed %d: %v saves %d, another %d", seed, found, got, best)
		}
	}
	if proposed == 0 {
		t.Error("nothing was proposed")
	}
}
