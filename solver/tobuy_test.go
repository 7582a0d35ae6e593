package solver

import (
	"context"
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/bounded"
)

// boxed gives the painter of a small problem some of its tubes, and in every other
// case limits.
func boxed(p *Problem, seed uint64) {
	r := rand.New(rand.NewPCG(seed, 20))
	n := len(p.Tubes)
	id := func() string { return p.Tubes[r.IntN(n)].ID }
	for i := range p.Tubes {
		p.Tubes[i].Have = r.IntN(2) == 0
	}
	l := &p.Limits
	l.Own, l.FewestToBuy = []string{id(), id()}, true
	if seed%2 == 0 {
		return
	}
	l.Never = []string{id()}
	l.AtMostOne = [][]string{{id(), id(), id()}}
	switch seed / 2 % 4 {
	case 0:
		l.MaxTubes = 4 + r.IntN(3)
	case 1:
		l.Budget = Spend(2500 + r.IntN(3000))
	case 2:
		if k := id(); k != l.Never[0] {
			l.Keep = []string{k}
		}
	}
}

// fewestByHand goes through every set of tubes within the limits: the least area that
// they miss of what the allowed tubes reach together, the least number to buy of
// those that miss no more, and the least size of these.
func fewestByHand(p *Problem, table *reachTable) (missed float64, buy, size, palettes int) {
	allowed := 1<<len(p.Tubes) - 1
	for i := range p.Tubes {
		for _, never := range p.Limits.Never {
			if p.Tubes[i].ID == never {
				allowed &^= 1 << i
			}
		}
	}
	missed = math.Inf(1)
	for s := range table.reach {
		if s == 0 || s&^allowed != 0 || !withinByHand(p, s) {
			continue
		}
		area, b, n := 0.0, toBuyByHand(p, s), bits.OnesCount(uint(s))
		for t := range p.Targets {
			if (table.reach[allowed]&^table.reach[s])>>t&1 == 1 {
				area += p.Targets[t].Area
			}
		}
		switch {
		case area < missed || area == missed && (b < buy || b == buy && n < size):
			missed, buy, size, palettes = area, b, n, 1
		case area == missed && b == buy && n == size:
			palettes++
		}
	}
	return missed, buy, size, palettes
}

func toBuyByHand(p *Problem, s int) (n int) {
	for i, t := range p.Tubes {
		if s>>i&1 == 1 && !t.Have && t.ID != p.Limits.Own[0] && t.ID != p.Limits.Own[1] {
			n++
		}
	}
	return n
}

// withinByHand tells whether a set keeps the limits but for tubes that are forbidden.
func withinByHand(p *Problem, s int) bool {
	cost, held := 0, map[string]bool{}
	for i, t := range p.Tubes {
		if s>>i&1 == 0 {
			continue
		}
		held[t.ID] = true
		if !t.Have && t.ID != p.Limits.Own[0] && t.ID != p.Limits.Own[1] {
			cost += t.Price
		}
	}
	for _, k := range p.Limits.Keep {
		if !held[k] {
			return false
		}
	}
	for _, group := range p.Limits.AtMostOne {
		both := map[string]bool{}
		for _, id := range group {
			if held[id] {
				both[id] = true
			}
		}
		if len(both) > 1 {
			return false
		}
	}
	return p.Limits.Budget.allows(cost) && (p.Limits.MaxTubes == 0 || len(held) <= p.Limits.MaxTubes)
}

// The answer is the one that going through all sets of tubes gives: fewest to buy,
// of those the fewest in all; and the needs it gives prove both.
func TestFewestToBuyByBruteForce(t *testing.T) {
	reached, conflicts, none, more := 0, 0, 0, 0
	for seed := range uint64(bounded.Cases(t, 16, 40)) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			p := smallProblem(t, seed, 12)
			boxed(&p, seed)
			p.MostPalettes = 500
			table := newReachTable(t, &p)
			missed, buy, size, palettes := fewestByHand(&p, table)
			a, err := Choose(context.Background(), p, nil)
			if err != nil {
				t.Fatal(err)
			}
			if missed > 0 {
				conflicts++
				area := 0.0
				for _, m := range a.Missed {
					area += p.Targets[slices.IndexFunc(p.Targets, func(t Target) bool { return t.Name == m.Target })].Area
				}
				if len(a.Conflict) == 0 || area != missed || a.ToBuy == nil || a.ToBuy.Tubes != buy {
					t.Errorf("conflict %v, %v of area missed, %+v to buy; want %v, %d", a.Conflict, area, a.ToBuy, missed, buy)
				}
				return
			}
			if a.ToBuy == nil || a.ToBuy.Tubes != buy || a.Minimum.Tubes != size || len(a.Palettes) != palettes || len(a.Conflict) > 0 {
				t.Fatalf("to buy %+v of %+v, %d palettes, conflict %v; want %d of %d, %d palettes", a.ToBuy, a.Minimum, len(a.Palettes), a.Conflict, buy, size, palettes)
			}
			if reached++; buy == 0 {
				none++
			}
			if fewest, _ := table.smallest(); size > fewest {
				more++
			}
			for s := range table.reach {
				if !withinByHand(&p, s) {
					continue
				}
				b, n := toBuyByHand(&p, s), bits.OnesCount(uint(s))
				if b < buy && meets(&p, a.NeedsToBuy, s) {
					t.Errorf("the needs are met with %d to buy", b)
				}
				if b <= buy && n < size && meets(&p, a.Needs, s) {
					t.Errorf("the needs are met by %d tubes", n)
				}
			}
		})
	}
	t.Logf("%d cases within reach, %d of them without a purchase and %d with more tubes than the fewest; %d whose limits conflict", reached, none, more, conflicts)
	if reached < bounded.Cases(t, 10, 25) || none == 0 || more < bounded.Cases(t, 2, 5) || conflicts == 0 {
		t.Error("the cases are of one kind")
	}
}

// meets tells whether a set of tubes that are allowed meets every need.
func meets(p *Problem, needs []Need, s int) bool {
	held := map[string]bool{}
	for i, t := range p.Tubes {
		if s>>i&1 == 1 {
			held[t.ID] = true
		}
	}
	for _, never := range p.Limits.Never {
		if held[never] {
			return false
		}
	}
	for _, n := range needs {
		met := false
		for _, id := range n.OneOf {
			met = met || held[id]
		}
		if !met {
			return false
		}
	}
	return true
}
