package reach

import (
	"math"
	"math/bits"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Known is all that is known of one target's reach, whatever the limits:
// mixes found, and sets of tubes searched and found to come no nearer than a
// certain difference. Each target has its own, so that targets can be worked on
// at the same time and in any order with the same result.
type Known struct {
	o        Oracle
	listed   bool // the sets that reach the target can be told one by one
	target   int
	tubes    int // in the catalogue
	supports []support
	byTube   [][]int // per tube: the supports that hold it; nil before the first
	byLowest [][]int // per tube: those that hold no lower one
	Failings []Failing
	Searches int
	unlisted []gamut.Mix // found by a search within what the list takes for a failing set
}

// support is a mix: every palette that holds its paints comes at least as near.
type support struct {
	mix gamut.Mix
}

func (s *support) within(palette set.Set) bool {
	for _, p := range s.mix.Paints {
		if !palette.Has(p) {
			return false
		}
	}
	return true
}

// Failing is a set of tubes and the nearest they come: a cut, valid for every
// tolerance below Best. It is found at search effort; no proof rests on it
// before it is sure, searched at verdict effort.
type Failing struct {
	Set  set.Set
	Best float64
	sure bool

	listed bool // by a list: Best is no more than a bound until it is sure
}

// NewKnown is of a target, in the beginning none.
func NewKnown(o Oracle, target, tubes int) *Known {
	return &Known{o: o, listed: o.Lists(), target: target, tubes: tubes}
}

// Copy knows the same and learns by itself.
func (k *Known) Copy() Known {
	out := *k
	out.supports, out.Failings = slices.Clone(k.supports), slices.Clone(k.Failings)
	out.unlisted = slices.Clip(k.unlisted)
	out.byTube, out.byLowest = unshared(k.byTube), unshared(k.byLowest)
	return out
}

// unshared are lists that may be appended to without a change of the given ones.
func unshared(lists [][]int) [][]int {
	out := slices.Clone(lists)
	for i := range out {
		out[i] = slices.Clip(out[i])
	}
	return out
}

// BestKnown is a known mix of a palette, or nil: of those within exact the one
// of fewest paints, the first found of equals, else the nearest. So palettes
// that can share a mix do.
func (k *Known) BestKnown(palette set.Set) *gamut.Mix {
	var best *support
	for i := range k.supports {
		if s := &k.supports[i]; s.within(palette) && (best == nil || s.before(best)) {
			best = s
		}
	}
	if best == nil {
		return nil
	}
	return &best.mix
}

func (s *support) before(o *support) bool {
	if s.mix.DE <= Exact && o.mix.DE <= Exact {
		return len(s.mix.Paints) < len(o.mix.Paints)
	}
	return portable.Compare(s.mix.DE, o.mix.DE, portable.Fine) < 0
}

// KnownToReach reports whether a known mix of the palette is within tolerance.
func (k *Known) KnownToReach(palette set.Set, tolerance float64) bool {
	if k.byLowest == nil {
		return false
	}
	for w, word := range palette {
		for ; word != 0; word &= word - 1 {
			for _, i := range k.byLowest[w<<6+bits.TrailingZeros64(word)] {
				if s := &k.supports[i]; s.mix.DE <= tolerance && s.within(palette) {
					return true
				}
			}
		}
	}
	return false
}

// KnownToMiss reports whether the palette lies within a failing set.
func (k *Known) KnownToMiss(palette set.Set, tolerance float64) bool {
	for i := range k.Failings {
		f := &k.Failings[i]
		if f.Best > tolerance && palette.SubsetOf(f.Set) {
			return true
		}
	}
	return false
}

// Reaches answers from what is known, else searches.
func (k *Known) Reaches(palette set.Set, tolerance float64, e gamut.Effort) bool {
	switch {
	case k.KnownToReach(palette, tolerance):
		return true
	case k.KnownToMiss(palette, tolerance):
		return false
	}
	_, at := k.search(palette, tolerance, e)
	return at != nowhere
}

// Distance is at most tolerance when the palette reaches the target by what is
// known or at a quick look, and else more: the nearest seen.
func (k *Known) Distance(palette set.Set, tolerance float64) float64 {
	if k.KnownToReach(palette, tolerance) {
		return 0
	}
	if palette.Len() == 0 {
		return math.Inf(1)
	}
	if k.listed {
		mix, _ := k.searchListed(palette, tolerance)
		return mix.DE
	}
	k.Searches++
	mix, ok := k.o.Within(k.target, palette, tolerance, gamut.Quick)
	if ok {
		k.Learn(mix)
	}
	return mix.DE
}

// search asks the oracle and learns the mix it finds: at is where that is kept.
// Else it is nowhere, and the mix the nearest seen.
func (k *Known) search(palette set.Set, tolerance float64, e gamut.Effort) (near gamut.Mix, at int) {
	if palette.Len() == 0 {
		return near, nowhere
	}
	if k.listed {
		return k.searchListed(palette, tolerance)
	}
	if e == gamut.Quick {
		if at := k.bySwap(palette, anyTube, tolerance); at != nowhere {
			return k.supports[at].mix, at
		}
	}
	k.Searches++
	mix, ok := k.o.Within(k.target, palette, tolerance, e)
	if ok {
		return mix, k.Learn(mix)
	}
	return mix, nowhere
}

// nowhere is where no mix is kept.
const nowhere = -1

// Learn keeps a mix and corrects failing sets that it shows to be wrong. It
// returns where the mix is kept.
func (k *Known) Learn(mix gamut.Mix) int {
	if len(mix.Paints) == 0 {
		return nowhere
	}
	s := support{mix}
	for i := range k.Failings {
		if f := &k.Failings[i]; f.Best > mix.DE && s.within(f.Set) {
			f.Best = mix.DE
		}
	}
	if k.byTube == nil {
		k.byTube, k.byLowest = make([][]int, k.tubes), make([][]int, k.tubes)
	}
	lowest := slices.Min(mix.Paints)
	for _, i := range k.byLowest[lowest] {
		if o := &k.supports[i]; slices.Equal(o.mix.Paints, mix.Paints) {
			if mix.DE < o.mix.DE {
				o.mix = mix
			}
			return i
		}
	}
	at := len(k.supports)
	k.supports = append(k.supports, s)
	k.byLowest[lowest] = append(k.byLowest[lowest], at)
	for _, p := range mix.Paints {
		k.byTube[p] = append(k.byTube[p], at)
	}
	return at
}

// Exact is the difference below which a known mix is taken without a search for
// a nearer one: a twentieth of what is seen side by side.
const Exact = 0.05

// Nearest is the best mix of a palette: the oracle's, or a known one if nearer.
func (k *Known) Nearest(palette set.Set, e gamut.Effort) gamut.Mix {
	if palette.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}
	}
	known := k.BestKnown(palette)
	if known != nil && known.DE <= Exact {
		return *known
	}
	k.Searches++
	mix := k.o.Closest(k.target, palette, e)
	if known != nil && known.DE < mix.DE {
		return *known
	}
	k.Learn(mix)
	return mix
}

// FewestMore is the set of a known mix that adds fewest tubes to a palette.
func (k *Known) FewestMore(palette, allowed set.Set, tolerance float64) set.Set {
	var best []int
	least := 0
	for i := range k.supports {
		s := &k.supports[i]
		if s.mix.DE > tolerance || !s.within(allowed) {
			continue
		}
		n := 0
		for _, p := range s.mix.Paints {
			if !palette.Has(p) {
				n++
			}
		}
		if best == nil || n < least {
			best, least = s.mix.Paints, n
		}
	}
	if best == nil {
		return nil
	}
	return set.Of(k.tubes, best...)
}
