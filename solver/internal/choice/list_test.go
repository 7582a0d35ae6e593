package choice

import (
	"context"
	"slices"
	"testing"

	"fewtubes/gamut/set"

	"pgregory.net/rapid"
)

// The smallest parts of a palette that reach what it reaches are those of brute
// force, with searches that overlook mixes too.
func TestFewestEqualsBruteForce(t *testing.T) {
	smaller := 0
	rapid.Check(t, func(t *rapid.T) {
		f := drawCase(t)
		r, _ := f.ruled(nil)
		r.Allowed = set.Of(f.o.n, rapid.SliceOfN(rapid.IntRange(0, f.o.n-1), 1, f.o.n).Draw(t, "palette")...)
		c := f.Blank()
		var reached []int
		for target := range f.Tolerance {
			if f.o.distance(target, r.Allowed) <= f.Tolerance[target] {
				reached = append(reached, target)
			}
		}
		if len(reached) == 0 {
			t.Skip("nothing is reached")
		}
		least, all := r.Allowed.Len(), []set.Set(nil)
		for _, s := range allSets(f.o.n) {
			if !s.SubsetOf(r.Allowed) || s.Len() > least || slices.ContainsFunc(reached, func(target int) bool { return f.o.distance(target, s) > f.Tolerance[target] }) {
				continue
			}
			if s.Len() < least {
				least, all = s.Len(), nil
			}
			all = append(all, s)
		}
		got, capped, err := c.Fewest(context.Background(), r, reached, 1000)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) == 0 || got[0].Len() != least || capped || !f.o.blind && len(got) != len(all) { // others are looked for less hard
			t.Fatalf("%d sets of %d tubes, by brute force %d of %d", len(got), got[0].Len(), len(all), least)
		}
		for _, s := range got {
			if !slices.ContainsFunc(all, func(b set.Set) bool { return slices.Equal(b, s) }) {
				t.Fatalf("%v of %v is not among the smallest", s.Members(), r.Allowed.Members())
			}
		}
		if least < r.Allowed.Len() {
			smaller++
		}
	})
	if smaller == 0 {
		t.Error("every tube was needed in every case")
	}
}
