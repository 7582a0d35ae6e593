package solver

import (
	"context"
	"testing"

	"fewtubes/gamut/set"

	"pgregory.net/rapid"
)

// pickCase is a question about cuts, sums, groups and blocked palettes.
type pickCase struct {
	h    *hunt
	q    question
	cuts []*cut
}

func drawPick(t *rapid.T) *pickCase {
	n := rapid.IntRange(1, 9).Draw(t, "tubes")
	held := func(label string) set.Set {
		return set.Of(n, rapid.SliceOfN(rapid.IntRange(0, n-1), 1, 4).Draw(t, label)...)
	}
	weights := func(label string) []int {
		return rapid.SliceOfN(rapid.IntRange(0, 5), n, n).Draw(t, label)
	}
	r := &rules{allowed: set.Full(n), keep: set.New(n), prices: weights("price")}
	if most := rapid.IntRange(-1, 12).Draw(t, "budget"); most >= 0 {
		r.budget = Spend(most)
	}
	if rapid.Bool().Draw(t, "keeps") {
		r.keep.Add(rapid.IntRange(0, n-1).Draw(t, "keep"))
	}
	for range rapid.IntRange(0, 2).Draw(t, "groups") {
		r.groups = append(r.groups, held("group"))
	}
	c := &pickCase{
		h: &hunt{rules: r, lits: newLiterals(newMaster(), n, 0), price: &tubeSum{weights: r.prices}},
		q: question{size: rapid.IntRange(-1, 4).Draw(t, "size")},
	}
	for range rapid.IntRange(0, 2).Draw(t, "blocked") {
		c.h.blocked = append(c.h.blocked, held("block"))
	}
	if rapid.Bool().Draw(t, "bounded") {
		c.q.bounds = []bound{{&tubeSum{weights: weights("weight")}, rapid.IntRange(0, 8).Draw(t, "most")}}
	}
	for range rapid.IntRange(0, 8).Draw(t, "cuts") {
		c.cuts = append(c.cuts, &cut{d: &demand{}, oneOf: held("cut")})
	}
	return c
}

// answers reports whether a palette answers the question for some cuts.
func (c *pickCase) answers(s set.Set, cuts []*cut) bool {
	r := c.h.rules
	if c.q.size >= 0 && s.Len() > c.q.size || !r.keep.SubsetOf(s) || !r.budget.allows(r.cost(s)) {
		return false
	}
	for _, g := range r.groups {
		if set.Intersection(g, s).Len() > 1 {
			return false
		}
	}
	for _, b := range c.h.blocked {
		if b.SubsetOf(s) {
			return false
		}
	}
	for _, b := range c.q.bounds {
		if b.sum.of(s) > b.most {
			return false
		}
	}
	for _, cut := range cuts {
		if !cut.oneOf.Meets(s) {
			return false
		}
	}
	return true
}

// Against every set of tubes; and a failure rests on the cuts named alone.
func TestPickEqualsBruteForce(t *testing.T) {
	found := map[outcome]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := drawPick(t)
		n := c.h.rules.allowed.Len()
		p, of := c.h.newPicker(&c.q, c.cuts)
		out := p.pick(context.Background())
		found[out]++
		if out == satisfied {
			palette := set.New(n)
			for _, i := range p.chosen.Members() {
				palette.Add(p.tubes[i])
			}
			if !c.answers(palette, c.cuts) {
				t.Fatalf("%v does not answer", palette.Members())
			}
			return
		}
		var because []*cut
		for i, used := range p.usedCut {
			if used {
				because = append(because, c.cuts[of[i]])
			}
		}
		for _, s := range subsets(n) {
			if c.answers(s, because) {
				t.Fatalf("%v answers for the cuts named", s.Members())
			}
		}
	})
	if found[satisfied] < 10 || found[failed] < 10 {
		t.Error(found)
	}
}
