package solver

import (
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/portable"
)

// apartSteps is how many cuts are tried before the look for disjoint ones is
// given up.
const apartSteps = 20_000

// apart is as many cuts as the palette has tubes, no two of which share a tube,
// wide margins first: the plainest proof that fewer tubes cannot do. It is nil
// when none is found.
func (c *core) apart(cuts []need, size int) []need {
	cuts = slices.Clone(cuts)
	slices.SortStableFunc(cuts, func(a, b need) int { return portable.Compare(b.margin(c), a.margin(c), portable.Fine) })
	steps := 0
	var chosen []need
	var choose func(from int, used gamut.Set) bool
	choose = func(from int, used gamut.Set) bool {
		if len(chosen) == size {
			return true
		}
		for i := from; i < len(cuts) && steps < apartSteps; i++ {
			steps++
			if cuts[i].oneOf.Meets(used) {
				continue
			}
			chosen = append(chosen, cuts[i])
			if choose(i+1, union(used, cuts[i].oneOf)) {
				return true
			}
			chosen = chosen[:len(chosen)-1]
		}
		return false
	}
	if !choose(0, gamut.NewSet(len(c.box.tubes))) {
		return nil
	}
	return chosen
}
