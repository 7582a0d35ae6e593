package reach

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
)

// Where a mix may hold few paints, every set of tubes that reaches a target can be
// listed. Then a palette reaches it when it holds a listed set, a failing set is
// grown on the list without a search, and a grown one is the largest of its kind,
// so few cuts are needed.

// family is what is listed within the domain, and the sets that a search found
// besides.
func (k *Known) family(ctx context.Context, domain set.Set, tolerance float64) ([][]int, error) {
	out, err := k.o.Least(ctx, k.target, domain, tolerance)
	out = slices.Clip(out)
	for _, m := range k.unlisted {
		if s := (&support{m}); m.DE <= tolerance && s.within(domain) {
			out = append(out, m.Paints)
		}
	}
	return out, err
}

// growListed is Grow on the list. Tubes that stand in few of the sets come in
// first, which leaves few out.
func (k *Known) growListed(ctx context.Context, palette, domain set.Set, tolerance float64) (cut Failing, ok bool, err error) {
	family, err := k.family(ctx, domain, tolerance)
	if err != nil {
		return Failing{}, false, err
	}
	stands := make([][]int, k.tubes)  // per tube: the sets it stands in
	lacks := make([]int, len(family)) // per set: tubes that are not in yet
	for at, s := range family {
		for _, p := range s {
			stands[p] = append(stands[p], at)
			if !palette.Has(p) {
				lacks[at]++
			}
		}
	}
	if slices.Contains(lacks, 0) {
		return Failing{}, false, nil
	}
	tubes := palette.Clone()
	order := set.Minus(domain, palette).Members()
	slices.SortStableFunc(order, func(i, j int) int { return len(stands[i]) - len(stands[j]) })
	for _, p := range order {
		if slices.ContainsFunc(stands[p], func(at int) bool { return lacks[at] == 1 }) {
			continue
		}
		tubes.Add(p)
		for _, at := range stands[p] {
			lacks[at]--
		}
	}
	if k.KnownToMiss(tubes, tolerance) {
		return k.failingAround(tubes, tolerance), true, nil
	}
	f := Failing{Set: tubes, Best: math.Nextafter(tolerance, math.Inf(1)), listed: true}
	k.Failings = append(k.Failings, f)
	return f, true, nil
}

// searchListed is search on the list.
func (k *Known) searchListed(palette set.Set, tolerance float64) (near gamut.Mix, at int) {
	mix, ok := k.o.Listed(k.target, palette, tolerance)
	if !ok {
		return mix, nowhere
	}
	return mix, k.Learn(mix)
}
