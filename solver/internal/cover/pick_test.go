package cover

import (
	"context"
	"slices"
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
		c: New(r, n, 1, &Uses{}),
		q: Question{Size: rapid.IntRange(-1, 4).Draw(t, "size")},
	}
	c.q.On = []Switch{c.c.Switch()}
	for range rapid.IntRange(0, 2).Draw(t, "blocked") {
		c.c.Block(held("block"), c.q.On[0])
	}
	if rapid.Bool().Draw(t, "bounded") {
		c.q.Bounds = []Bound{{NewSum(weights("sum")), rapid.IntRange(0, 8).Draw(t, "most")}}
	}
	for range rapid.IntRange(0, 8).Draw(t, "cuts") {
		cut := &Cut{OneOf: held("cut")}
		c.c.Add(cut)
		c.cuts = append(c.cuts, cut)
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

// Both engines against every palette; and a failure rests on the cuts named alone.
func TestEnginesEqualBruteForce(t *testing.T) {
	found := map[Result]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := drawPick(t)
		n := c.c.rules.Allowed.Len()
		for _, e := range []engine{c.c.quick, c.c.sure} {
			r := e.ask(context.Background(), &c.q, c.cuts)
			found[r.out]++
			if r.out == Satisfied {
				if !c.answers(r.palette, c.cuts) {
					t.Fatalf("%T: %v does not answer", e, r.palette.Members())
				}
				continue
			}
			for _, s := range subsets(n) {
				if c.answers(s, r.cuts) {
					t.Fatalf("%T: %v answers for the cuts named", e, s.Members())
				}
			}
		}
	})
	if found[Satisfied] < 20 || found[Failed] < 20 || found[Cancelled] > 0 {
		t.Error(found)
	}
}

// wrong is an engine that says no to everything.
type wrong struct{}

func (wrong) ask(_ context.Context, _ *Question, active []*Cut) reply {
	return reply{out: Failed, cuts: active}
}

// A "no" of the search to a question that decides a minimum stands only when the SAT
// solver says it too.
func TestSATDecidesTheMinimum(t *testing.T) {
	c := New(&Rules{Allowed: set.Full(3), Keep: set.New(3), Weights: make([]int, 3)}, 3, 1, &Uses{})
	c.quick = wrong{}
	c.Add(&Cut{OneOf: set.Of(3, 0, 1)})
	c.Add(&Cut{OneOf: set.Of(3, 1, 2)})
	palette, _, out := c.Ask(context.Background(), &Question{Size: 1})
	if out != Satisfied || !palette.Equal(set.Of(3, 1)) {
		t.Errorf("%v, %v", out, palette.Members())
	}
	if _, _, out := c.Ask(context.Background(), &Question{Size: 0}); out != Failed || len(c.Why()) == 0 {
		t.Errorf("%v, resting on %d cuts", out, len(c.Why()))
	}
}

// A proof that is grown rules out every palette of its size, and none is grown where
// some palette meets all sets; whatever engine is asked first.
func TestGrownProofEqualsBruteForce(t *testing.T) {
	found := map[Result]int{}
	rapid.Check(t, func(t *rapid.T) {
		c := drawPick(t)
		c.q = Question{Size: rapid.IntRange(0, 4).Draw(t, "fewer")}
		c.c.blocked, c.c.Few = nil, rapid.Bool().Draw(t, "few")
		sets := make([]set.Set, len(c.cuts))
		for i, cut := range c.cuts {
			sets[i] = cut.OneOf
		}
		order := rapid.Permutation(set.Full(len(sets)).Members()).Draw(t, "order")
		at, out := c.c.Refuter(sets, c.q.Size).Grow(context.Background(), order)
		found[out]++
		var rest []*Cut
		for _, i := range at {
			rest = append(rest, c.cuts[i])
		}
		if out == Satisfied {
			rest = c.cuts
		}
		answered := slices.ContainsFunc(subsets(c.c.rules.Allowed.Len()), func(s set.Set) bool { return c.answers(s, rest) })
		if answered != (out == Satisfied) || !slices.IsSorted(at) {
			t.Fatalf("%v, grown to %v", out, at)
		}
	})
	if found[Satisfied] < 20 || found[Failed] < 20 || found[Cancelled] > 0 {
		t.Error(found)
	}
}
