package reach

import (
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Many tubes look much alike, the more the larger the catalogue. Where a mix is
// known, the same with a tube exchanged for one like it is often within reach
// too, and is found for a fraction of a search. What is found this way only ever
// says that a palette reaches a target, which the mix itself proves.

// mostSwaps is how many known mixes are tried for one palette.
const mostSwaps = 4

// anyTube leaves the choice to likeness.
const anyTube = -1

// bySwap looks for a mix of the palette next to a known one that lacks one tube,
// the latest first: for that tube comes in, or the palette's most like it. It
// returns where the mix is kept, or nowhere.
func (k *Known) bySwap(palette set.Set, in int, tolerance float64) (at int) {
	tried := 0
	for i := len(k.supports) - 1; i >= 0 && tried < mostSwaps; i-- {
		s := &k.supports[i]
		if s.mix.DE > tolerance {
			continue
		}
		out, ok := onlyOneOutside(s.mix.Paints, palette)
		if !ok {
			continue
		}
		for _, with := range replacing(k.o, out, in) {
			if !palette.Has(with) || slices.Contains(s.mix.Paints, with) {
				continue
			}
			tried++
			if mix := k.o.Swap(k.target, &s.mix, out, with); mix.DE <= tolerance {
				return k.Learn(mix)
			}
			break
		}
	}
	return nowhere
}

// together is how many tubes make up a group that is searched from pairs with
// one of them, rather than as a whole.
const together = 4

// missesWith is a quick look at a set that reaches the target, if at all, by one
// of the tubes added last. near is the nearest mix seen, if any was sought.
func (k *Known) missesWith(held set.Set, added []int, tolerance float64) (near gamut.Mix, ok bool) {
	near.DE = math.Inf(1)
	switch {
	case k.KnownToReach(held, tolerance):
		return near, false
	case k.KnownToMiss(held, tolerance):
		return near, true
	case len(added) == 1 && k.bySwap(held, added[0], tolerance) != nowhere:
		return near, false
	}
	if len(added) > together {
		near, at := k.search(held, tolerance, gamut.Quick)
		return near, at == nowhere
	}
	k.Searches++
	near, within := k.o.WithinBy(k.target, held, added, tolerance)
	if within {
		k.Learn(near)
	}
	return near, !within
}

// standIn is the part of a tube's pull on a mix that lacks it which another must
// have to be left out together with it.
const standInPull = 0.5

// withStandIns is a tube that is to leave a shrinking set and all that could do
// the same for the latest mix that holds it.
func (k *Known) withStandIns(c *tally, tube int) []int {
	out := []int{tube}
	mix := &c.latestWith(tube).mix
	if len(mix.Paints) < 2 {
		return out
	}
	pull := k.o.PullsWithout(k.target, mix, tube)
	least := max(0, standInPull*pull[tube])
	for i, p := range pull {
		if p > least && i != tube && c.set.Has(i) && !c.palette.Has(i) {
			out = append(out, i)
		}
	}
	return out
}

// idle are the tubes that a mix has no use for by its slopes, those that would
// do most harm first, and the rest. Where there is no mix all are taken for idle.
func (k *Known) idle(out []int, near *gamut.Mix) (idle, rest []int) {
	if len(near.Paints) == 0 {
		slices.Reverse(out)
		return out, nil
	}
	pull := k.o.Pulls(k.target, near)
	for _, i := range out {
		if pull[i] <= 0 {
			idle = append(idle, i)
		} else {
			rest = append(rest, i)
		}
	}
	slices.SortStableFunc(idle, func(i, j int) int { return portable.Compare(pull[i], pull[j], portable.Fine) })
	return idle, rest
}

func replacing(o Oracle, out, in int) []int {
	if in == anyTube {
		return o.Alike(out)
	}
	return []int{in}
}

// onlyOneOutside is the one tube that a palette lacks.
func onlyOneOutside(tubes []int, palette set.Set) (out int, ok bool) {
	for _, p := range tubes {
		if !palette.Has(p) {
			if ok {
				return 0, false
			}
			out, ok = p, true
		}
	}
	return out, ok
}

// ReachesBy looks for a mix that holds the tube just added to a palette, then for
// any.
func (k *Known) ReachesBy(with set.Set, tube int, tolerance float64) bool {
	if k.KnownToReach(with, tolerance) || k.bySwap(with, tube, tolerance) != nowhere {
		return true
	}
	_, at := k.search(with, tolerance, gamut.Search)
	return at != nowhere
}
