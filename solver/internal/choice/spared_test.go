package choice

import (
	"context"
	"fmt"
	"slices"
	"testing"

	"fewtubes/gamut/set"

	"pgregory.net/rapid"
)

// The tubes of a palette that bring nothing within reach are those of brute force,
// with searches that overlook mixes too.
func TestSuperfluousEqualsBruteForce(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		f := drawCase(t)
		r, _ := f.ruled(f.of(Keep))
		palette := set.Union(r.Keep, set.Of(f.o.n, rapid.SliceOfN(rapid.IntRange(0, f.o.n-1), 1, f.o.n).Draw(t, "palette")...))
		c := f.Blank()
		var reached []int
		for target := range f.Tolerance {
			if f.o.distance(target, palette) <= f.Tolerance[target] {
				reached = append(reached, target)
			}
		}
		var want []int
		for _, i := range set.Minus(palette, r.Keep).Members() {
			less := palette.Clone()
			less.Remove(i)
			if !slices.ContainsFunc(reached, func(target int) bool { return f.o.distance(target, less) > f.Tolerance[target] }) {
				want = append(want, i)
			}
		}
		idle, err := c.Superfluous(context.Background(), set.Minus(palette, r.Keep), palette, reached)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(idle, want) {
			t.Fatalf("idle %v, by brute force %v", idle, want)
		}
		seen[fmt.Sprint(len(want) > 0)]++
	})
	if t.Log(seen); len(seen) < 2 {
		t.Error("one kind of case never came")
	}
}
