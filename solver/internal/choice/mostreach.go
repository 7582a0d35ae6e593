package choice

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// forgiving is a hunt in which targets may be missed at a price.
type forgiving struct {
	*Hunt
	c       *Core
	targets []int
	weights []int
	waivers *cover.Waivers
}

func (c *Core) forgiving(r *cover.Rules, targets, weights []int) *forgiving {
	f := &forgiving{Hunt: c.Hunt(r), c: c, targets: targets, weights: weights}
	f.waivers = f.Waive(targets, weights)
	f.demand(&Demand{targets: targets, tolerance: c.Tolerance, forgive: true})
	return f
}

// losing is the question with targets of so much weight missed at most.
func (f *forgiving) losing(q cover.Question, most int) cover.Question {
	if l, always := f.waivers.AtMost(most); !always {
		q.On = append(slices.Clone(q.On), l)
	}
	return q
}

// least is a palette that answers the question and misses least weight, and how
// much; nil when none answers it. seen is told of every better palette.
func (f *forgiving) least(ctx context.Context, q cover.Question, seen func(set.Set)) (best set.Set, lost int, err error) {
	for next := q; ; next = f.losing(q, lost-1) {
		palette, out, err := f.find(ctx, next)
		if err != nil || out == cover.Failed {
			return best, lost, err
		}
		best, lost = palette, f.c.lost(palette, f.targets, f.weights)
		seen(best)
		if lost == 0 {
			return best, lost, nil
		}
	}
}

// MostWanted says which palettes are wanted of those that reach most.
type MostWanted struct {
	Size     int   // tubes at most
	MoreThan int   // targets to reach; at least what palettes of one tube fewer do
	Weights  []int // per tube: those whose tubes weigh least come first
	List     int   // so many at most
	Sift     int   // from so many on the lightest are looked for instead of sorted
}

// MostReach are the palettes under the rules that reach most of some targets, and
// how many they reach; capped: there are more. There are none where that is not
// more than wanted.
func (c *Core) MostReach(ctx context.Context, r *cover.Rules, targets []int, w *MostWanted) (palettes []set.Set, reached int, capped bool, err error) {
	if w.MoreThan >= len(targets) {
		return nil, 0, false, nil
	}
	err = Retry(func() error {
		f := c.forgiving(r, targets, slices.Repeat([]int{1}, len(targets)))
		q := cover.Question{Size: w.Size}
		best, lost, err := f.least(ctx, f.losing(q, len(targets)-w.MoreThan-1), func(set.Set) {})
		if err != nil || best == nil {
			return err
		}
		palettes, capped, err = f.lightest(ctx, f.losing(q, lost), best, w)
		reached = len(targets) - lost
		return err
	})
	return palettes, reached, capped, err
}

// lightest lists the palettes that answer the question, one of which is known, in
// order of weight. To ask for the lightest is much slower than to ask for any, so
// where there are few they are all found and sorted.
func (f *forgiving) lightest(ctx context.Context, q cover.Question, known set.Set, w *MostWanted) ([]set.Set, bool, error) {
	s := cover.NewSum(w.Weights)
	switched := func() cover.Question {
		return cover.Question{Size: q.Size, On: slices.Insert(slices.Clone(q.On), 0, f.Switch())}
	}
	all := &Decision{}
	if err := f.listAt(ctx, all, w.Sift, known, switched()); err != nil {
		return nil, false, err
	}
	if len(all.Palettes) < w.Sift {
		slices.SortStableFunc(all.Palettes, func(a, b set.Set) int {
			return cmp.Or(cmp.Compare(s.Of(a), s.Of(b)), slices.Compare(a.Members(), b.Members()))
		})
		n := min(len(all.Palettes), w.List)
		return all.Palettes[:n], n < len(all.Palettes), nil
	}
	some := &Decision{}
	err := f.listBy(ctx, some, w.List, switched(), s)
	return some.Palettes, some.Capped, err
}
