package solver

import (
	"context"
	"math/bits"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/solver/internal/lessons"
)

// Where limits force misses on real tubes, an answer says of each tube that brings
// nothing within reach what it brings nearer, and offers the smallest palette
// that misses as little area: against brute force over all palettes.
func TestAnswersOwnUpToSuperfluousTubes(t *testing.T) {
	idle, offered := 0, 0
	for seed := range uint64(bounded.Cases(t, 24, 60)) {
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
			if table.reach[less] != table.reach[palette] || x.Tubes != set.Len()-1 || int(x.Price) != s.priceOf(less) {
				t.Errorf("case %d: %+v", seed, x)
			}
			for _, g := range x.Brings {
				target := s.targetIndex(g.Target)
				if a.Palettes[0].Targets[target].DE != float64(g.To) || g.From-g.To < lessons.LeastGain || float64(g.To) < p.Targets[target].Tolerance {
					t.Errorf("case %d: %s brings %+v", seed, x.Tube, g)
				}
			}
			if len(x.Brings) == 0 {
				t.Errorf("case %d: %s brings nothing at all", seed, x.Tube)
			}
		}
	}
	if t.Logf("%d superfluous tubes, %d smaller palettes", idle, offered); idle < bounded.Cases(t, 1, 3) || offered < bounded.Cases(t, 1, 3) {
		t.Error("the cases are too tame")
	}
}
