package solver

import (
	"slices"

	"fewtubes/gamut"
)

// Many tubes look much alike, the more the larger the catalogue. Where a mix is
// known, the same with a tube exchanged for one like it is often within reach
// too, and is found for a fraction of a search. What is found this way only ever
// says that a palette reaches a target, which the mix itself proves.

// swapper is an oracle that can start from what is known.
type swapper interface {
	// swap settles mix towards target t with the tube out exchanged for in.
	swap(t int, mix *gamut.Mix, out, in int) gamut.Mix
	// alike lists the other tubes, those most like the given one first.
	alike(tube int) []int
	// withinBy is a quick look at a palette that misses target t without some tubes.
	withinBy(t int, palette gamut.Set, tubes []int, tolerance float64) (gamut.Mix, bool)
}

// mostSwaps is how many known mixes are tried for one palette.
const mostSwaps = 4

// anyTube leaves the choice to likeness.
const anyTube = -1

// bySwap looks for a mix of the palette next to a known one that lacks one tube,
// the latest first: for that tube comes in, or the palette's most like it.
func (k *knowledge) bySwap(palette gamut.Set, in int, tolerance float64) bool {
	o, ok := k.o.(swapper)
	if !ok {
		return false
	}
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
		for _, with := range replacing(o, out, in) {
			if !palette.Has(with) || slices.Contains(s.mix.Paints, with) {
				continue
			}
			tried++
			if mix := o.swap(k.target, &s.mix, out, with); mix.DE <= tolerance {
				k.learn(mix)
				return true
			}
			break
		}
	}
	return false
}

// needed reports whether a set is known to reach the target with one tube more,
// or does so by a mix next to a known one.
func (k *knowledge) needed(set gamut.Set, tube int, tolerance float64) bool {
	set.Add(tube)
	defer set.Remove(tube)
	return k.knownToReach(set, tolerance) || k.bySwap(set, tube, tolerance)
}

// reachesWith is a quick look at a set that reaches the target, if at all, by
// one of the tubes added last.
func (k *knowledge) reachesWith(set gamut.Set, added []int, tolerance float64) bool {
	o, ok := k.o.(swapper)
	switch {
	case !ok:
		return k.reaches(set, tolerance, quick)
	case k.knownToReach(set, tolerance):
		return true
	case k.knownToMiss(set, tolerance):
		return false
	}
	k.searches++
	mix, ok := o.withinBy(k.target, set, added, tolerance)
	if ok {
		k.learn(mix)
	}
	return ok
}

func replacing(o swapper, out, in int) []int {
	if in == anyTube {
		return o.alike(out)
	}
	return []int{in}
}

// onlyOneOutside is the one tube that a palette lacks.
func onlyOneOutside(tubes []int, palette gamut.Set) (out int, ok bool) {
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

func (m *mixing) swap(t int, mix *gamut.Mix, out, in int) gamut.Mix {
	paints := slices.Clone(mix.Paints)
	paints[slices.Index(paints, out)] = in
	return m.mixer.Settle(m.targets[t], paints, mix.Shares)
}

func (m *mixing) withinBy(t int, palette gamut.Set, tubes []int, tolerance float64) (gamut.Mix, bool) {
	return m.mixer.WithinBy(m.targets[t], palette, tubes, tolerance)
}

func (m *mixing) alike(tube int) []int { return m.mixer.Alike(tube) }
