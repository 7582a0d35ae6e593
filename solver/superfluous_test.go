package solver

import (
	"context"
	"fmt"
	"math/bits"
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
		r, _ := f.ruled(f.of(limitKeep))
		palette := set.Union(r.Keep, set.Of(f.o.n, rapid.SliceOfN(rapid.IntRange(0, f.o.n-1), 1, f.o.n).Draw(t, "palette")...))
		c := f.blank()
		var reached []int
		for target := range f.tolerance {
			if f.o.distance(target, palette) <= f.tolerance[target] {
				reached = append(reached, target)
			}
		}
		var want []int
		for _, i := range set.Minus(palette, r.Keep).Members() {
			less := palette.Clone()
			less.Remove(i)
			if !slices.ContainsFunc(reached, func(target int) bool { return f.o.distance(target, less) > f.tolerance[target] }) {
				want = append(want, i)
			}
		}
		idle, err := c.superfluous(context.Background(), set.Minus(palette, r.Keep), palette, reached)
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

// Where limits force misses on real tubes, an answer says of each tube that brings
// nothing within reach what it brings nearer, and offers the smallest palette
// that misses as little area: against brute force over all palettes.
func TestAnswersOwnUpToSuperfluousTubes(t *testing.T) {
	idle, offered := 0, 0
	for seed := range uint64(60) {
		p := smallProblem(t, 600+seed, 10)
		p.MostPalettes = 1
		s, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		limits := Limits{Budget: Spend(2000 + 500*int(seed%5))}
		a, err := s.Choose(context.Background(), limits, Accuracy, nil)
		if err != nil || len(a.Missed) == 0 {
			continue // the limits leave nothing, or everything is reached
		}
		table := newReachTable(t, &p)
		set, _ := s.index.find("palette", a.Palettes[0].Tubes)
		palette := int(set[0])
		area := func(reached uint) (sum float64) {
			for i := range p.Targets {
				if reached>>i&1 == 1 {
					sum += p.Targets[i].Area
				}
			}
			return sum
		}
		most, _ := limits.Budget.Most()
		least := set.Len()
		for other := range table.reach {
			if s.priceOf(other) <= most && area(table.reach[other]) >= area(table.reach[palette]) {
				least = min(least, bits.OnesCount(uint(other)))
			}
		}
		smallest := set.Len()
		if a.Smaller != nil {
			smallest = len(a.Smaller.Tubes)
			offered++
		}
		if table.reach[palette] != 0 && smallest != least {
			t.Errorf("case %d: %d tubes for %d would do, by brute force %d", seed, smallest, set.Len(), least)
		}
		for _, x := range a.Superfluous {
			idle++
			less := palette &^ (1 << s.index.place[x.Tube])
			if table.reach[less] != table.reach[palette] || x.Tubes != set.Len()-1 || x.Price != s.priceOf(less) {
				t.Errorf("case %d: %+v", seed, x)
			}
			for _, g := range x.Brings {
				target := s.targetIndex(g.Target)
				if a.Palettes[0].Targets[target].DE != g.To || g.From-g.To < leastGain || g.To < p.Targets[target].Tolerance {
					t.Errorf("case %d: %s brings %+v", seed, x.Tube, g)
				}
			}
			if len(x.Brings) == 0 {
				t.Errorf("case %d: %s brings nothing at all", seed, x.Tube)
			}
		}
	}
	if t.Logf("%d superfluous tubes, %d smaller palettes", idle, offered); idle < 3 || offered < 3 {
		t.Error("the cases are too tame")
	}
}
