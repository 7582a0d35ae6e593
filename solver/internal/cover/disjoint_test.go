package cover

import (
	"context"
	"slices"
	"testing"

	"fewtubes/gamut/set"

	"pgregory.net/rapid"
)

// Disjoint finds the first packing in order exactly when one exists: against every
// choice.
func TestDisjointEqualsBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const members = 10
		var sets []set.Set
		for range rapid.IntRange(1, 9).Draw(t, "sets") {
			sets = append(sets, set.Of(members, rapid.SliceOfN(rapid.IntRange(0, members-1), 1, 4).Draw(t, "set")...))
		}
		n := rapid.IntRange(0, 5).Draw(t, "n")
		var want []int
		for _, choice := range subsets(len(sets)) {
			at := choice.Members()
			if len(at) == n && disjointAt(sets, at) && (want == nil || slices.Compare(at, want) < 0) {
				want = append([]int{}, at...)
			}
		}
		got := Disjoint(context.Background(), sets, n)
		if slices.Sort(got); (got == nil) != (want == nil) || !slices.Equal(got, want) {
			t.Fatalf("%d of %v: %v, by brute force %v", n, sets, got, want)
		}
	})
}

func disjointAt(sets []set.Set, at []int) bool {
	for k, i := range at {
		if slices.ContainsFunc(at[:k], func(j int) bool { return sets[i].Meets(sets[j]) }) {
			return false
		}
	}
	return true
}

// pairsWithin are all pairs of members of the same of some groups.
func pairsWithin(groups, each int) (out []set.Set) {
	for g := range groups {
		for i := range each {
			for j := range i {
				out = append(out, set.Of(groups*each, g*each+i, g*each+j))
			}
		}
	}
	return out
}

// subsets are all sets of 0..n-1.
func subsets(n int) (out []set.Set) {
	for words := range uint64(1) << n {
		out = append(out, set.Set{words})
	}
	return out
}

// looks counts how often it is asked whether it has ended.
type looks struct {
	context.Context
	n, end int
}

func (l *looks) Err() error {
	if l.n++; l.end > 0 && l.n > l.end {
		return context.Canceled
	}
	return nil
}

// To look for disjoint pairs where there are too few takes as long as there are
// ways to pair members, unless that is bounded. 17 members are one too few for nine
// pairs; of two groups of nine members, one stays alone in each.
func TestDisjointIsBounded(t *testing.T) {
	ctx := &looks{Context: context.Background()}
	if found := Disjoint(ctx, pairsWithin(1, 17), 9); found != nil || ctx.n > 0 {
		t.Errorf("nine pairs of 17: %v after %d looks", found, ctx.n)
	}
	odd := pairsWithin(2, 9)
	if found := Disjoint(ctx, odd, 8); len(found) != 8 {
		t.Errorf("eight pairs of twice nine: %v", found)
	}
	if found := Disjoint(ctx, odd, 9); found != nil || ctx.n > mostCompared {
		t.Errorf("nine pairs of twice nine: %v after %d looks", found, ctx.n)
	}
	const after, most = 1000, 10 // looks, and more of them while it comes back
	ctx = &looks{Context: context.Background(), end: after}
	if found := Disjoint(ctx, odd, 9); found != nil || ctx.n > after+most {
		t.Errorf("stopped: %v after %d looks", found, ctx.n)
	}
}
