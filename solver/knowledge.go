package solver

import (
	"math"
	"slices"

	"fewtubes/gamut"
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
	failings []failing
	searches int
}

// support is a mix and the set of its paints: every palette that holds them
// comes at least as near.
type support struct {
	set gamut.Set
	mix gamut.Mix
}

// failing is a set of tubes and the nearest they come: a cut, valid for every
// tolerance below best. It is found at search effort; no proof rests on it
// before it is sure, searched at verdict effort.
type failing struct {
	set  gamut.Set
	best float64
	sure bool
}

// supportIn is a known mix of a palette, or nil: of those within exact the one
// of fewest paints, the first found of equals, else the nearest. So palettes
// that can share a mix do.
func (k *knowledge) supportIn(palette gamut.Set) *support {
	var best *support
	for i := range k.supports {
		if s := &k.supports[i]; s.set.SubsetOf(palette) && (best == nil || s.before(best)) {
			best = s
		}
	}
	return best
}

func (s *support) before(o *support) bool {
	if s.mix.DE <= exact && o.mix.DE <= exact {
		return len(s.mix.Paints) < len(o.mix.Paints)
	}
	return s.mix.DE < o.mix.DE
}

// knownToReach reports whether a known mix of the palette is within tolerance.
func (k *knowledge) knownToReach(palette gamut.Set, tolerance float64) bool {
	for i := range k.supports {
		s := &k.supports[i]
		if s.mix.DE <= tolerance && s.set.SubsetOf(palette) {
			return true
		}
	}
	return false
}

// knownToMiss reports whether the palette lies within a failing set.
func (k *knowledge) knownToMiss(palette gamut.Set, tolerance float64) bool {
	for i := range k.failings {
		f := &k.failings[i]
		if f.best > tolerance && palette.SubsetOf(f.set) {
			return true
		}
	}
	return false
}

// reaches answers from what is known, else searches.
func (k *knowledge) reaches(palette gamut.Set, tolerance float64, e effort) bool {
	switch {
	case k.knownToReach(palette, tolerance):
		return true
	case k.knownToMiss(palette, tolerance):
		return false
	}
	return k.search(palette, tolerance, e)
}

// distance is at most tolerance when the palette reaches the target by what is
// known or at a quick look, and else more: the nearest seen.
func (k *knowledge) distance(palette gamut.Set, tolerance float64) float64 {
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

// search asks the oracle and learns the mix it finds.
func (k *knowledge) search(palette gamut.Set, tolerance float64, e effort) bool {
	if palette.Len() == 0 {
		return false
	}
	if e == quick && k.bySwap(palette, anyTube, tolerance) {
		return true
	}
	k.searches++
	mix, ok := k.o.within(k.target, palette, tolerance, e)
	if ok {
		k.learn(mix)
	}
	return ok
}

// learn keeps a mix and corrects failing sets that it shows to be wrong.
func (k *knowledge) learn(mix gamut.Mix) {
	set := gamut.SetOf(k.tubes, mix.Paints...)
	for i := range k.failings {
		if f := &k.failings[i]; f.best > mix.DE && set.SubsetOf(f.set) {
			f.best = mix.DE
		}
	}
	at := slices.IndexFunc(k.supports, func(s support) bool { return slices.Equal(s.set, set) })
	switch {
	case at < 0:
		k.supports = append(k.supports, support{set, mix})
	case mix.DE < k.supports[at].mix.DE:
		k.supports[at].mix = mix
	}
}

// exact is the difference below which a known mix is taken without a search for
// a nearer one: a twentieth of what is seen side by side.
const exact = 0.05

// nearest is the best mix of a palette: the oracle's, or a known one if nearer.
func (k *knowledge) nearest(palette gamut.Set, e effort) gamut.Mix {
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
