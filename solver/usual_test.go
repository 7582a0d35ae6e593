package solver

import (
	"context"
	"math/bits"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
)

// Without a preference the first palette is, of all smallest ones by brute force over
// 1 024 subsets, one of fewest toxic, fading and brittle tubes; and where all of
// those were compared, no other of them comes before it. Plain recipes are counted on
// the plan of each palette by itself.
func TestUsualEqualsBruteForce(t *testing.T) {
	flawed, several := 0, 0
	for seed := range uint64(bounded.Cases(t, 12, 32)) {
		p := smallProblem(t, seed, 10)
		table := newReachTable(t, &p)
		size, reachable := table.smallest()
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		a, err := s.Choose(context.Background(), Limits{}, "", nil)
		if err != nil {
			t.Fatalf("case %d: %v", seed, err)
		}
		if size == 0 {
			continue
		}
		keys := func(ids []string) (k []float64) {
			got, _, err := s.Check(context.Background(), ids, nil)
			if err != nil {
				t.Fatal(err)
			}
			holds, err := s.Share(context.Background(), []Palette{got}, 100)
			if err != nil {
				t.Fatal(err)
			}
			k = make([]float64, 6)
			k[1] = -float64(min(holds[0]/25, 3))
			k[2] = -float64(planned(t, &p, ids))
			k[3] = -float64(min(holds[0]/5, 19))
			for _, id := range ids {
				tube := p.Tubes[s.index.place[id]]
				for _, class := range []string{"toxic", "fugitive", "brittle"} {
					if tube.InClass(class) {
						k[0]++
					}
				}
				if len(tube.Pigments) > 1 {
					k[4]++
				}
				if tube.Basis == catalog.Estimated {
					k[4]++
				}
			}
			worst := 0.0
			for i, o := range got.Targets {
				if reachable>>i&1 == 1 {
					worst = max(worst, o.DE)
				}
			}
			for k[5] = 1; k[5] < worst; k[5] += 0.5 {
			}
			return append(k, float64(got.Price))
		}
		first := keys(a.Palettes[0].Tubes)
		if first[0] > 0 {
			flawed++
		}
		equals := 0
		for i, reached := range table.reach {
			if reached != reachable || bits.OnesCount(uint(i)) != size {
				continue
			}
			other := keys(s.index.ids(set.Set{uint64(i)}))
			if other[0] == first[0] {
				equals++
			}
			if other[0] < first[0] || !a.TiedCapped && slices.Compare(other, first) < 0 {
				t.Errorf("case %d: %v has %v, %v has %v", seed, a.Palettes[0].Tubes, first, s.index.ids(set.Set{uint64(i)}), other)
			}
		}
		if a.Tied != equals && !a.TiedCapped {
			t.Errorf("case %d: %d of as few drawbacks, by brute force %d", seed, a.Tied, equals)
		}
		if equals > 1 {
			several++
		}
	}
	if flawed < bounded.Cases(t, 2, 5) || several < bounded.Cases(t, 2, 5) {
		t.Errorf("in %d cases no palette is without drawbacks, in %d several are alike", flawed, several)
	}
}

// planned counts the straight recipes of a palette's own plan.
func planned(t *testing.T, p *Problem, ids []string) (n int) {
	t.Helper()
	alone := *p
	alone.Tubes = slices.DeleteFunc(slices.Clone(p.Tubes), func(tube catalog.Tube) bool { return !slices.Contains(ids, tube.ID) })
	paints, sight := alone.paints()
	k, err := recipe.NewKitchen(paints, sight, recipe.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	var goals []recipe.Target
	for _, target := range p.Targets {
		goals = append(goals, recipe.Target{Lab: target.Lab, Tolerance: target.Tolerance})
	}
	plan, err := k.Plan(context.Background(), goals)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range plan.Recipes {
		if r.Kind == recipe.Straight && r.Within {
			n++
		}
	}
	return n
}
