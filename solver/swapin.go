package solver

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

// swapper is an oracle that can start from what is known.
type swapper interface {
	// swap settles mix towards target t with the tube out exchanged for in.
	swap(t int, mix *gamut.Mix, out, in int) gamut.Mix
	// alike lists the other tubes, those most like the given one first.
	alike(tube int) []int
	// withinBy is a quick look at a palette that misses target t without some tubes.
	withinBy(t int, palette set.Set, tubes []int, tolerance float64) (gamut.Mix, bool)
	// pulls tells per tube how much nearer, squared, a little of it promises to
	// bring a mix to target t; negative: it leads away.
	pulls(t int, mix *gamut.Mix) []float64
	// pullsWithout is the same for a mix that does without one of its tubes.
	pullsWithout(t int, mix *gamut.Mix, tube int) []float64
}

// mostSwaps is how many known mixes are tried for one palette.
const mostSwaps = 4

// anyTube leaves the choice to likeness.
const anyTube = -1

// bySwap looks for a mix of the palette next to a known one that lacks one tube,
// the latest first: for that tube comes in, or the palette's most like it. It
// returns where the mix is kept, or nowhere.
func (k *knowledge) bySwap(palette set.Set, in int, tolerance float64) (at int) {
	o, ok := k.o.(swapper)
	if !ok {
		return nowhere
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
				return k.learn(mix)
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
func (k *knowledge) missesWith(held set.Set, added []int, tolerance float64) (near gamut.Mix, ok bool) {
	near.DE = math.Inf(1)
	switch {
	case k.knownToReach(held, tolerance):
		return near, false
	case k.knownToMiss(held, tolerance):
		return near, true
	case len(added) == 1 && k.bySwap(held, added[0], tolerance) != nowhere:
		return near, false
	}
	o, ok := k.o.(swapper)
	if !ok || len(added) > together {
		near, at := k.search(held, tolerance, quick)
		return near, at == nowhere
	}
	k.searches++
	near, within := o.withinBy(k.target, held, added, tolerance)
	if within {
		k.learn(near)
	}
	return near, !within
}

// standIn is the part of a tube's pull on a mix that lacks it which another must
// have to be left out together with it.
const standInPull = 0.5

// withStandIns is a tube that is to leave a shrinking set and all that could do
// the same for the latest mix that holds it.
func (k *knowledge) withStandIns(c *tally, tube int) []int {
	out := []int{tube}
	o, ok := k.o.(swapper)
	if !ok {
		return out
	}
	mix := &c.latestWith(tube).mix
	if len(mix.Paints) < 2 {
		return out
	}
	pull := o.pullsWithout(k.target, mix, tube)
	least := max(0, standInPull*pull[tube])
	for i, p := range pull {
		if p > least && i != tube && c.set.Has(i) && !c.palette.Has(i) {
			out = append(out, i)
		}
	}
	return out
}

// idle are the tubes that a mix has no use for by its slopes, those that would
// do most harm first, and the rest. Where the oracle knows of no slopes all are
// taken for idle.
func (k *knowledge) idle(out []int, near *gamut.Mix) (idle, rest []int) {
	o, ok := k.o.(swapper)
	if !ok || len(near.Paints) == 0 {
		slices.Reverse(out)
		return out, nil
	}
	pull := o.pulls(k.target, near)
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

func replacing(o swapper, out, in int) []int {
	if in == anyTube {
		return o.alike(out)
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

func (m *mixing) swap(t int, mix *gamut.Mix, out, in int) gamut.Mix {
	paints := slices.Clone(mix.Paints)
	paints[slices.Index(paints, out)] = in
	return m.mixer.Settle(m.targets[t], paints, mix.Shares)
}

func (m *mixing) withinBy(t int, palette set.Set, tubes []int, tolerance float64) (gamut.Mix, bool) {
	return m.mixer.WithinBy(m.targets[t], palette, tubes, tolerance)
}

func (m *mixing) alike(tube int) []int { return m.mixer.Alike(tube) }

func (m *mixing) pulls(t int, mix *gamut.Mix) []float64 { return m.mixer.Pulls(m.targets[t], mix) }

func (m *mixing) pullsWithout(t int, mix *gamut.Mix, tube int) []float64 {
	at := slices.Index(mix.Paints, tube)
	paints := slices.Delete(slices.Clone(mix.Paints), at, at+1)
	rest := m.mixer.Settle(m.targets[t], paints, slices.Delete(slices.Clone(mix.Shares), at, at+1))
	return m.mixer.Pulls(m.targets[t], &rest)
}
