package reach

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
)

// Where a mix may hold few paints, every set of tubes that reaches a target can be
// told. Then a failing set is grown tube by tube without a search, and is the largest
// of its kind, so few cuts are needed.

// growListed is Grow by the sets that reach. Tubes that stand in few of them come in
// first, which leaves few out.
func (k *Known) growListed(ctx context.Context, palette, domain set.Set, tolerance float64) (cut Failing, ok bool, err error) {
	if _, reached := k.o.Listed(k.target, palette, tolerance); reached || k.reachedUnlisted(palette, tolerance) {
		return Failing{}, false, nil
	}
	promise, err := k.o.Promise(ctx, k.target, domain, tolerance)
	if err != nil {
		return Failing{}, false, err
	}
	tubes := palette.Clone()
	order := set.Minus(domain, palette).Members()
	slices.SortStableFunc(order, func(i, j int) int { return promise[i] - promise[j] })
	for _, p := range order {
		if err := ctx.Err(); err != nil {
			return Failing{}, false, err
		}
		if k.o.Brings(k.target, tubes, p, tolerance) {
			continue
		}
		if tubes.Add(p); k.reachedUnlisted(tubes, tolerance) {
			tubes.Remove(p)
		}
	}
	if k.KnownToMiss(tubes, tolerance) {
		return k.failingAround(tubes, tolerance), true, nil
	}
	f := Failing{Set: tubes, Best: math.Nextafter(tolerance, math.Inf(1)), listed: true}
	k.Failings = append(k.Failings, f)
	return f, true, nil
}

// reachedUnlisted reports whether a palette holds a set that only a search found to
// reach the target.
func (k *Known) reachedUnlisted(palette set.Set, tolerance float64) bool {
	return slices.ContainsFunc(k.unlisted, func(m gamut.Mix) bool {
		return m.DE <= tolerance && (&support{m}).within(palette)
	})
}

// searchListed is search by the sets that reach.
func (k *Known) searchListed(palette set.Set, tolerance float64) (near gamut.Mix, at int) {
	mix, ok := k.o.Listed(k.target, palette, tolerance)
	if !ok {
		return mix, nowhere
	}
	return mix, k.Learn(mix)
}
