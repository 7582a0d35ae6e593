package solver

import (
	"math"
	"math/bits"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// knowledge is all that is known of one target's reach, whatever the limits:
// mixes found, and sets of tubes searched and found to come no nearer than a
// certain difference. Each target has its own, so that targets can be worked on
// at the same time and in any order with the same result.
type knowledge struct {
	o        oracle
	target   int
	tubes    int // in the catalogue
	supports []support
	byTube   [][]int // per tube: the supports that hold it; nil before the first
	byLowest [][]int // per tube: those that hold no lower one
	failings []failing
	searches int
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

// failing is a set of tubes and the nearest they come: a cut, valid for every
// tolerance below best. It is found at search effort; no proof rests on it
// before it is sure, searched at verdict effort.
type failing struct {
	set  set.Set
	best float64
	sure bool
}

// copied knows the same and learns by itself.
func (k *knowledge) copied() knowledge {
	out := *k
	out.supports, out.failings = slices.Clone(k.supports), slices.Clone(k.failings)
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

// supportIn is a known mix of a palette, or nil: of those within exact the one
// of fewest paints, the first found of equals, else the nearest. So palettes
// that can share a mix do.
func (k *knowledge) supportIn(palette set.Set) *support {
	var best *support
	for i := range k.supports {
		if s := &k.supports[i]; s.within(palette) && (best == nil || s.before(best)) {
			best = s
		}
	}
	return best
}

func (s *support) before(o *support) bool {
	if s.mix.DE <= exact && o.mix.DE <= exact {
		return len(s.mix.Paints) < len(o.mix.Paints)
	}
	return portable.Compare(s.mix.DE, o.mix.DE, portable.Fine) < 0
}

// knownToReach reports whether a known mix of the palette is within tolerance.
func (k *knowledge) knownToReach(palette set.Set, tolerance float64) bool {
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

// knownToMiss reports whether the palette lies within a failing set.
func (k *knowledge) knownToMiss(palette set.Set, tolerance float64) bool {
	for i := range k.failings {
		f := &k.failings[i]
		if f.best > tolerance && palette.SubsetOf(f.set) {
			return true
		}
	}
	return false
}

// reaches answers from what is known, else searches.
func (k *knowledge) reaches(palette set.Set, tolerance float64, e effort) bool {
	switch {
	case k.knownToReach(palette, tolerance):
		return true
	case k.knownToMiss(palette, tolerance):
		return false
	}
	_, at := k.search(palette, tolerance, e)
	return at != nowhere
}

// distance is at most tolerance when the palette reaches the target by what is
// known or at a quick look, and else more: the nearest seen.
func (k *knowledge) distance(palette set.Set, tolerance float64) float64 {
	if k.knownToReach(palette, tolerance) {
		return 0
	}
	if palette.Len() == 0 {
		return math.Inf(1)
	}
	k.searches++
	mix, ok := k.o.within(k.target, palette, tolerance, quick)
	if ok {
		k.learn(mix)
	}
	return mix.DE
}

// search asks the oracle and learns the mix it finds: at is where that is kept.
// Else it is nowhere, and the mix the nearest seen.
func (k *knowledge) search(palette set.Set, tolerance float64, e effort) (near gamut.Mix, at int) {
	if palette.Len() == 0 {
		return near, nowhere
	}
	if e == quick {
		if at := k.bySwap(palette, anyTube, tolerance); at != nowhere {
			return k.supports[at].mix, at
		}
	}
	k.searches++
	mix, ok := k.o.within(k.target, palette, tolerance, e)
	if ok {
		return mix, k.learn(mix)
	}
	return mix, nowhere
}

// nowhere is where no mix is kept.
const nowhere = -1

// learn keeps a mix and corrects failing sets that it shows to be wrong. It
// returns where the mix is kept.
func (k *knowledge) learn(mix gamut.Mix) int {
	if len(mix.Paints) == 0 {
		return nowhere
	}
	s := support{mix}
	for i := range k.failings {
		if f := &k.failings[i]; f.best > mix.DE && s.within(f.set) {
			f.best = mix.DE
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

// exact is the difference below which a known mix is taken without a search for
// a nearer one: a twentieth of what is seen side by side.
const exact = 0.05

// nearest is the best mix of a palette: the oracle's, or a known one if nearer.
func (k *knowledge) nearest(palette set.Set, e effort) gamut.Mix {
	if palette.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}
	}
	known := k.supportIn(palette)
	if known != nil && known.mix.DE <= exact {
		return known.mix
	}
	k.searches++
	mix := k.o.closest(k.target, palette, e)
	if known != nil && known.mix.DE < mix.DE {
		return known.mix
	}
	k.learn(mix)
	return mix
}
