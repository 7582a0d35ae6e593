package choice

import (
	"context"
	"slices"
	"testing"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"

	"pgregory.net/rapid"
)

// The sets of a size that reach most targets are those of brute force, in order of
// their weights, under any rules and with searches that overlook mixes.
func TestMostReachEqualsBruteForce(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		f := drawCase(t)
		r, ok := f.ruled(f.of(Keep, Forbid))
		if !ok {
			t.Skip("limits contradict each other")
		}
		c := f.Blank()
		size := r.Keep.Len() + rapid.IntRange(1, 3).Draw(t, "more")
		targets := set.Full(len(f.Tolerance)).Members()
		moreThan, _ := mostByBruteForce(f, r, targets, size-1)
		w := &MostWanted{size, moreThan, r.Weights, f.wish.Most, rapid.SampledFrom([]int{1, 5, 1000}).Draw(t, "sift")}
		got, reached, capped, err := c.MostReach(context.Background(), r, targets, w)
		if err != nil {
			t.Fatal(err)
		}
		most, best := mostByBruteForce(f, r, targets, size)
		if most == moreThan {
			if seen["none"]++; got != nil {
				t.Fatalf("%v reach %d, by brute force none reaches over %d", got, reached, moreThan)
			}
			return
		}
		seen["some"]++
		if reached != most || len(got) != min(len(best), f.wish.Most) || capped != (len(got) < len(best)) {
			t.Fatalf("%d of %d sets (capped %v) reach %d, by brute force %d", len(got), len(best), capped, reached, most)
		}
		checkCosts(t, got, best, cover.NewSum(r.Weights))
		for _, s := range got {
			if !slices.ContainsFunc(best, func(b set.Set) bool { return slices.Equal(b, s) }) {
				t.Fatalf("%v is not among the best", s.Members())
			}
		}
	})
	if t.Log(seen); seen["some"] == 0 || seen["none"] == 0 {
		t.Error("one kind of case never came")
	}
}

// mostByBruteForce are the palettes of at most a size that reach most targets.
func mostByBruteForce(f *fakeCase, r *cover.Rules, targets []int, size int) (most int, best []set.Set) {
	for _, s := range allSets(f.o.n) {
		if !keeps(s, r) || s.Len() > size {
			continue
		}
		n := 0
		for _, target := range targets {
			if f.o.distance(target, s) <= f.Tolerance[target] {
				n++
			}
		}
		if n > most {
			most, best = n, nil
		}
		if n == most {
			best = append(best, s)
		}
	}
	return most, best
}
