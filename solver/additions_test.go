package solver

import (
	"context"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/lessons"
)

// What to add to a palette and what to leave at home equal brute force over all
// subsets of ten real tubes.
func TestAdditionsAndAtHomeEqualBruteForce(t *testing.T) {
	const tubes = 10
	levels, homes := 0, 0
	for seed := range uint64(30) {
		p := smallProblem(t, 300+seed, tubes)
		table := newReachTable(t, &p)
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		rng := rand.New(rand.NewPCG(seed, 1))
		palette := set.Of(tubes, rng.Perm(tubes)[:1+rng.IntN(6)]...)
		levels += checkAdditions(t, seed, s, table, palette)
		homes += checkAtHome(t, seed, s, table, palette)
	}
	t.Logf("%d sizes of additions, %d largest sets to leave at home", levels, homes)
	if levels < 30 || homes < 10 {
		t.Error("the cases are too tame")
	}
}

func checkAdditions(t *testing.T, seed uint64, s *Session, table *reachTable, palette set.Set) int {
	t.Helper()
	got, err := s.Additions(context.Background(), s.index.ids(palette), nil)
	if err != nil {
		t.Fatal(err)
	}
	base := int(palette[0])
	missed := table.reach[1<<table.n-1] &^ table.reach[base]
	last := 0
	if len(got[0].Sets[0].Reached) == 0 {
		got = got[1:] // no single tube reaches anything
	}
	for n := 1; n <= lessons.MostAdded && last < bits.OnesCount(missed); n++ {
		most, ties := 0, [][]string(nil)
		for more := range 1 << table.n {
			if more&base != 0 || bits.OnesCount(uint(more)) != n {
				continue
			}
			reached := bits.OnesCount(table.reach[base|more] & missed)
			if reached > most {
				most, ties = reached, nil
			}
			if reached == most {
				ties = append(ties, s.index.ids(set.Set{uint64(more)}))
			}
		}
		if most <= last {
			continue
		}
		last = most
		if len(got) == 0 || got[0].Tubes != n {
			t.Fatalf("case %d: %d tubes bring %d within reach by brute force: %+v", seed, n, most, got)
		}
		var listed [][]string
		for _, a := range got[0].Sets {
			if len(a.Reached) != most {
				t.Errorf("case %d: %v bring %v within reach, by brute force %d", seed, a.Tubes, a.Reached, most)
			}
			listed = append(listed, a.Tubes)
		}
		slices.SortFunc(listed, slices.Compare[[]string])
		slices.SortFunc(ties, slices.Compare[[]string])
		if got[0].Capped {
			ties = slices.DeleteFunc(ties, func(ids []string) bool {
				return !slices.ContainsFunc(listed, func(l []string) bool { return slices.Equal(l, ids) })
			})
		}
		if !slices.EqualFunc(listed, ties, slices.Equal[[]string]) {
			t.Errorf("case %d: %v, by brute force %v", seed, listed, ties)
		}
		got = got[1:]
	}
	if len(got) > 0 {
		t.Errorf("case %d: %+v bring no more", seed, got)
	}
	return last
}

func checkAtHome(t *testing.T, seed uint64, s *Session, table *reachTable, palette set.Set) int {
	t.Helper()
	got, err := s.AtHome(context.Background(), s.index.ids(palette))
	if err != nil {
		t.Fatal(err)
	}
	base := int(palette[0])
	most, ties := 0, [][]string(nil)
	for home := base; home > 0; home = (home - 1) & base {
		n := bits.OnesCount(uint(home))
		if table.reach[base] == 0 || table.reach[base&^home] != table.reach[base] || n < most {
			continue
		}
		if n > most {
			most, ties = n, nil
		}
		ties = append(ties, s.index.ids(set.Set{uint64(home)}))
	}
	var listed [][]string
	for _, l := range got.Sets {
		listed = append(listed, l.Tubes)
	}
	slices.SortFunc(listed, slices.Compare[[]string])
	slices.SortFunc(ties, slices.Compare[[]string])
	if got.Capped || !slices.EqualFunc(listed, ties, slices.Equal[[]string]) {
		t.Errorf("case %d: %v can stay at home, by brute force %v", seed, listed, ties)
	}
	return len(ties)
}
