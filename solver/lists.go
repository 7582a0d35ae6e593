package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
)

// Where a mix may hold few paints, every set of tubes that reaches a target can be
// listed. Then a palette reaches it when it holds a listed set, a failing set is
// grown on the list without a search, and a grown one is the largest of its kind,
// so few cuts are needed.

// lister is an oracle that may be able to list the sets that reach a target.
type lister interface {
	// lists reports whether it is, for this problem.
	lists() bool
	// least are the sets of tubes of a domain that come within a tolerance of target
	// t, each ascending; of a set that holds another, only that other is there. The
	// error is the context's.
	least(ctx context.Context, t int, domain gamut.Set, tolerance float64) ([][]int, error)
	// reach is the nearest mix of some set of the palette that is on that list.
	reach(t int, palette gamut.Set, tolerance float64) (gamut.Mix, bool)
}

// listing is the lister behind an oracle, or nil.
func listing(o oracle) lister {
	if l, ok := o.(lister); ok && l.lists() {
		return l
	}
	return nil
}

// listed reports whether a hunt goes by lists.
func (h *hunt) listed() bool { return len(h.known) > 0 && h.known[0].l != nil }

func (m *mixing) lists() bool { return m.table != nil }

func (m *mixing) least(ctx context.Context, t int, domain gamut.Set, tolerance float64) ([][]int, error) {
	return m.table.Within(ctx, t, domain, tolerance)
}

func (m *mixing) reach(t int, palette gamut.Set, tolerance float64) (gamut.Mix, bool) {
	set := m.table.Reaches(t, palette, tolerance)
	if set == nil {
		return gamut.Mix{DE: math.Inf(1)}, false
	}
	return m.table.Nearest(t, set), true
}

// family is what is listed within the domain, and the sets that a search found
// besides.
func (k *knowledge) family(ctx context.Context, domain gamut.Set, tolerance float64) ([][]int, error) {
	out, err := k.l.least(ctx, k.target, domain, tolerance)
	out = slices.Clip(out)
	for _, m := range k.unlisted {
		if m.DE <= tolerance && holds(domain, m.Paints) {
			out = append(out, m.Paints)
		}
	}
	return out, err
}

// holds reports whether a palette holds all of some tubes.
func holds(palette gamut.Set, tubes []int) bool {
	for _, p := range tubes {
		if !palette.Has(p) {
			return false
		}
	}
	return true
}

// growListed is grow on the list. Tubes that stand in few of the sets come in
// first, which leaves few out.
func (k *knowledge) growListed(ctx context.Context, palette, domain gamut.Set, tolerance float64) (cut failing, ok bool, err error) {
	family, err := k.family(ctx, domain, tolerance)
	if err != nil {
		return failing{}, false, err
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
		return failing{}, false, nil
	}
	set := palette.Clone()
	order := minus(domain, palette).Members()
	slices.SortStableFunc(order, func(i, j int) int { return len(stands[i]) - len(stands[j]) })
	for _, p := range order {
		if slices.ContainsFunc(stands[p], func(at int) bool { return lacks[at] == 1 }) {
			continue
		}
		set.Add(p)
		for _, at := range stands[p] {
			lacks[at]--
		}
	}
	if k.knownToMiss(set, tolerance) {
		return k.failingAround(set, tolerance), true, nil
	}
	f := failing{set: set, best: math.Nextafter(tolerance, math.Inf(1)), listed: true}
	k.failings = append(k.failings, f)
	return f, true, nil
}
