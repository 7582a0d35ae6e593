package cover

import (
	"context"
	"testing"

	"fewtubes/gamut/set"

	"pgregory.net/rapid"
)

// pickCase is a question about cuts, sums, groups and blocked palettes.
type pickCase struct {
	c    *Cover
	q    Question
	cuts []*Cut
}

func drawPick(t *rapid.T) *pickCase {
	n := rapid.IntRange(1, 9).Draw(t, "members")
	held := func(label string) set.Set {
		return set.Of(n, rapid.SliceOfN(rapid.IntRange(0, n-1), 1, 4).Draw(t, label)...)
	}
	weights := func(label string) []int {
		return rapid.SliceOfN(rapid.IntRange(0, 5), n, n).Draw(t, label)
	}
	r := &Rules{Allowed: set.Full(n), Keep: set.New(n), Weights: weights("weight")}
	if most := rapid.IntRange(-1, 12).Draw(t, "budget"); most >= 0 {
		r.Budgeted, r.Budget = true, most
	}
	if rapid.Bool().Draw(t, "keeps") {
		r.Keep.Add(rapid.IntRange(0, n-1).Draw(t, "keep"))
	}
	for range rapid.IntRange(0, 2).Draw(t, "groups") {
		r.Groups = append(r.Groups, held("group"))
	}
	c := &pickCase{
		c: New(r, n, 1),
		q: Question{Size: rapid.IntRange(-1, 4).Draw(t, "size")},
	}
	for range rapid.IntRange(0, 2).Draw(t, "blocked") {
		c.c.blocked = append(c.c.blocked, held("block"))
	}
	if rapid.Bool().Draw(t, "bounded") {
		c.q.Bounds = []Bound{{NewSum(weights("sum")), rapid.IntRange(0, 8).Draw(t, "most")}}
	}
	for range rapid.IntRange(0, 8).Draw(t, "cuts") {
		c.cuts = append(c.cuts, &Cut{OneOf: held("cut")})
	}
	return c
}

// answers reports whether a palette answers the question for some cuts.
func (c *pickCase) answers(s set.Set, cuts []*Cut) bool {
	r := c.c.rules
	if c.q.Size >= 0 && s.Len() > c.q.Size || !r.Keep.SubsetOf(s) || !r.Affords(r.Weight(s)) {
		return false
	}
	for _, g := range r.Groups {
		if set.Intersection(g, s).Len() > 1 {
			return false
		}
	}
	for _, b := range c.c.blocked {
		if b.SubsetOf(s) {
			return false
		}
	}
	for _, b := range c.q.Bounds {
		if b.Sum.Of(s) > b.Most {
			return false
		}
	}
	for _, cut := range cuts {
		if !cut.OneOf.Meets(s) {
			return false
		}
	}
	return true
}

// Against every palette; and a failure rests on the cuts named alone.
func TestPickEqualsBruteForce(t *testing.T) {
	found := map[Result]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := drawPick(t)
		n := c.c.rules.Allowed.Len()
		p, of := c.c.picker(&c.q, c.cuts)
		out := p.pick(context.Background())
		found[out]++
		if out == Satisfied {
			palette := set.New(n)
			for _, i := range p.chosen.Members() {
				palette.Add(p.members[i])
			}
			if !c.answers(palette, c.cuts) {
				t.Fatalf("%v does not answer", palette.Members())
			}
			return
		}
		because := p.usedOf(c.cuts, of)
		for _, s := range subsets(n) {
			if c.answers(s, because) {
				t.Fatalf("%v answers for the cuts named", s.Members())
			}
		}
	})
	if found[Satisfied] < 10 || found[Failed] < 10 {
		t.Error(found)
	}
}
