package solver_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// someTubes are a white and others of the built-in catalogue, and colours near mixes
// of them.
func someTubes(t *testing.T, rng *rand.Rand, n, colours int) solver.Problem {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	white, err := all.Get("titanium-white")
	if err != nil {
		t.Fatal(err)
	}
	p := solver.Problem{Tubes: []catalog.Tube{white}, ByHand: solver.Straight}
	stock := all.Tubes()
	for _, i := range rng.Perm(len(stock)) {
		if len(p.Tubes) < n && stock[i].ID != white.ID {
			p.Tubes = append(p.Tubes, stock[i])
		}
	}
	for i := range colours {
		var paints []film.Paint
		var amounts []float64
		for _, k := range rng.Perm(n)[:3] {
			paints, amounts = append(paints, p.Tubes[k].Paint), append(amounts, 1+rng.Float64()*6)
		}
		var mix film.Paint
		film.Mix(&mix, paints, amounts)
		seen := mix.Masstone(film.Dry)
		lab := colour.D65().Lab(&seen)
		lab.A += 2 * rng.NormFloat64()
		lab.B += 2 * rng.NormFloat64()
		p.Targets = append(p.Targets, solver.Target{Name: string(rune('a' + i)), Lab: lab, Area: 1, Tolerance: 2 + 2*rng.Float64()})
	}
	return p
}

// The smallest palettes by hand, on 30 seeded cases of up to ten tubes, by going
// through every palette and counting its plain recipes.
func TestByHandEqualsBruteForce(t *testing.T) {
	sizes := map[int]int{}
	beyond := 0
	for seed := range uint64(bounded.Cases(t, 12, 30)) {
		rng := rand.New(rand.NewPCG(seed, 30))
		n := 5 + int(seed%6)
		p := someTubes(t, rng, n, 7)
		p.MaxPartsTotal = 6
		var paints []film.Paint
		var targets []recipe.Target
		for i := range p.Tubes {
			paints = append(paints, p.Tubes[i].Paint)
		}
		for _, c := range p.Targets {
			targets = append(targets, recipe.Target{Lab: c.Lab, Tolerance: c.Tolerance})
		}
		table, err := recipe.NewTable(paints, gamut.Options{Surface: film.Dry}, recipe.Limits{Total: p.MaxPartsTotal, Hand: p.Hand()}, targets)
		if err != nil {
			t.Fatal(err)
		}
		plain := func(palette set.Set) int {
			n, err := table.PlainRecipes(t.Context(), palette)
			if err != nil {
				t.Fatal(err)
			}
			return n
		}
		most := plain(set.Full(n))
		smallest := n
		for choice := range 1 << n {
			palette := set.New(n)
			for i := range n {
				if choice>>i&1 == 1 {
					palette.Add(i)
				}
			}
			if palette.Len() < smallest && plain(palette) == most {
				smallest = palette.Len()
			}
		}
		a, err := solver.Choose(t.Context(), p, nil)
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		if got := len(p.Targets) - len(a.Unreachable); got != most || len(a.Missed) > 0 {
			t.Errorf("seed %d: %d reached, %d missed, going through all %d", seed, got, len(a.Missed), most)
		}
		if most > 0 && (a.Minimum.Tubes != smallest || a.Minimum.Proof != solver.Counted) {
			t.Errorf("seed %d: %+v, going through all %d tubes", seed, a.Minimum, smallest)
		}
		for _, m := range a.Unreachable {
			if m.BestDE <= p.Targets[m.Target[0]-'a'].Tolerance {
				t.Errorf("seed %d: %+v is within reach", seed, m)
			}
		}
		sizes[a.Minimum.Tubes]++
		beyond += len(a.Unreachable)
	}
	if t.Log(sizes, beyond); len(sizes) < 3 || beyond < bounded.Cases(t, 2, 5) {
		t.Errorf("sizes %v, %d beyond: the cases do not try the choice", sizes, beyond)
	}
}

// Limits hold by hand as elsewhere: with too few tubes allowed, as little as can be
// is missed.
func TestByHandUnderLimits(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 31))
	p := someTubes(t, rng, 8, 8)
	free, err := solver.Choose(t.Context(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	s, err := solver.NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	last := len(p.Targets) + 1
	for most := 1; most <= free.Minimum.Tubes; most++ {
		p.Limits = solver.Limits{MaxTubes: most, Keep: []string{p.Tubes[0].ID}}
		a, err := solver.Choose(t.Context(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		if missed := len(a.Missed) + len(a.Unreachable); missed > last {
			t.Errorf("%d tubes miss %d colours, one fewer %d", most, missed, last)
		} else {
			last = missed
		}
	}
	best := free.Palettes[0].Tubes
	swaps, err := s.Swaps(t.Context(), solver.Limits{}, best)
	if err != nil {
		t.Fatal(err)
	}
	if spare, err := s.AtHome(t.Context(), best); err != nil {
		t.Errorf("%v may stay at home: %v", spare, err)
	}
	for i, swap := range swaps {
		for _, in := range swap.StandIns {
			with := slices.Clone(best)
			with[i] = in.Tube
			_, missed, err := s.Check(t.Context(), with, nil)
			if err != nil || len(missed) != len(free.Unreachable) {
				t.Errorf("%v in place of %v: %d missed, %v", in.Tube, swap.Tube, len(missed), err)
			}
		}
	}
	if last != len(free.Unreachable) {
		t.Errorf("%d missed by as many tubes as the answer without limits has", last)
	}
}

// Where limits leave colours out by hand, no tube of the answer can be spared.
func TestByHandSparesTubes(t *testing.T) {
	tried := 0
	for seed := range uint64(6) {
		p := someTubes(t, rand.New(rand.NewPCG(seed, 32)), 9, 8)
		s, err := solver.NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		for budget := 1500; budget <= 6000; budget += 1500 {
			a, err := s.Choose(t.Context(), solver.Limits{Budget: solver.Spend(budget)}, p.Prefer, nil)
			if err != nil {
				t.Fatalf("seed %d, budget %d: %v", seed, budget, err)
			}
			all := len(a.Missed) + len(a.Unreachable)
			if len(a.Missed) == 0 || all == len(p.Targets) {
				continue
			}
			tubes := a.Palettes[0].Tubes
			for i := range tubes {
				rest := slices.Delete(slices.Clone(tubes), i, i+1)
				if len(rest) == 0 {
					continue
				}
				tried++
				if _, missed, err := s.Check(t.Context(), rest, nil); err != nil || len(missed) <= all {
					t.Errorf("seed %d, budget %d: %s is not missed among %v: %d missed, then %d, %v", seed, budget, tubes[i], tubes, all, len(missed), err)
				}
			}
		}
	}
	if t.Log(tried); tried < 20 {
		t.Errorf("%d tubes tried", tried)
	}
}
