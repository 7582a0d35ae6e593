package solver

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
)

// grow extends a palette within the domain to a maximal set that still misses
// the target. ok is false when the palette reaches
// the target after all.
//
// Where adding tubes one by one would take a search for each, this starts from
// the whole domain: a mix that is found there names at most a handful of tubes,
// one of which has to stay out. Leaving out the tube that most known mixes need
// keeps the complement, the cut, small. The searches are about as many as the
// tubes in the cut, not in the catalogue.
func (k *knowledge) grow(ctx context.Context, palette, domain gamut.Set, tolerance float64) (cut failing, ok bool, err error) {
	for {
		if err := ctx.Err(); err != nil {
			return failing{}, false, err
		}
		set, ok := k.tentative(ctx, palette, domain, tolerance)
		if err := ctx.Err(); !ok || err != nil {
			return failing{}, false, err
		}
		if k.knownToMiss(set, tolerance) {
			return k.failingAround(set, tolerance), true, nil
		}
		mix, within := k.judge(set, tolerance, search)
		if !within {
			f := failing{set: set, best: mix.DE}
			k.failings = append(k.failings, f)
			return f, true, nil
		}
		k.learn(mix)
	}
}

// judge searches a set that is to be a cut. No tubes at all are infinitely far off.
func (k *knowledge) judge(set gamut.Set, tolerance float64, e effort) (gamut.Mix, bool) {
	if set.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}, false
	}
	k.searches++
	return k.o.within(k.target, set, tolerance, e)
}

// surelyMisses searches a whole domain, at verdict effort before it says yes.
func (k *knowledge) surelyMisses(ctx context.Context, domain gamut.Set, tolerance float64) (bool, error) {
	for !k.reaches(domain, tolerance, search) {
		if _, ok, err := k.grow(ctx, domain, domain, tolerance); !ok || err != nil {
			return false, err
		}
		for i := range k.failings {
			if f := &k.failings[i]; f.best > tolerance && domain.SubsetOf(f.set) {
				if k.ensure(i, tolerance); f.best > tolerance {
					return true, nil
				}
			}
		}
	}
	return false, nil
}

// ensure searches a cut at verdict effort, once. A mix found within tolerance
// takes the cut back.
func (k *knowledge) ensure(i int, tolerance float64) {
	f := &k.failings[i]
	if f.sure || f.best <= tolerance {
		return
	}
	mix, within := k.judge(f.set, tolerance, verdict)
	if within {
		k.learn(mix)
		return
	}
	f.sure = true
	f.best = min(f.best, mix.DE)
}

// tentative is a maximal failing set by quick searches; nothing when the context
// ends before it is found.
func (k *knowledge) tentative(ctx context.Context, palette, domain gamut.Set, tolerance float64) (set gamut.Set, ok bool) {
	set = union(palette, domain)
	var out []int
	for ctx.Err() == nil {
		i := k.mostNeeded(set, palette, tolerance)
		switch {
		case i == reachedAlready:
			return nil, false
		case i >= 0:
			set.Remove(i)
			out = append(out, i)
		case !k.search(set, tolerance, quick):
			return k.readmit(ctx, set, out, tolerance), true
		}
	}
	return nil, false
}

const (
	noneNeeded     = -1
	reachedAlready = -2
)

// mostNeeded is the tube outside the palette that occurs in most of the known
// mixes within the set; of equals the one in most mixes of all, then the lowest.
func (k *knowledge) mostNeeded(set, palette gamut.Set, tolerance float64) int {
	count := make([]int, k.tubes)
	found := false
	for i := range k.supports {
		s := &k.supports[i]
		if s.mix.DE > tolerance {
			continue
		}
		weight := 1
		if s.set.SubsetOf(set) {
			weight = len(k.supports) + 1
			if s.set.SubsetOf(palette) {
				return reachedAlready
			}
			found = true
		}
		for _, p := range s.mix.Paints {
			count[p] += weight
		}
	}
	most := noneNeeded
	if !found {
		return most
	}
	for p, n := range count {
		if set.Has(p) && !palette.Has(p) && n > 0 && (most < 0 || n > count[most]) {
			most = p
		}
	}
	return most
}

// readmit puts back every tube left out that does not bring the target within
// reach after all, last out first.
func (k *knowledge) readmit(ctx context.Context, set gamut.Set, out []int, tolerance float64) gamut.Set {
	var doubtful []int
	for _, i := range slices.Backward(out) {
		if !k.needed(set, i, tolerance) {
			doubtful = append(doubtful, i)
		}
	}
	for group := range slices.Chunk(doubtful, together) {
		if ctx.Err() != nil {
			break
		}
		set = k.putBack(set, group, tolerance)
	}
	return set
}

// together is how many doubtful tubes are put back at once: about one in eight
// turns out to be needed, and most groups of this size hold none.
const together = 4

// putBack puts back the tubes of a group that are not needed.
func (k *knowledge) putBack(set gamut.Set, group []int, tolerance float64) gamut.Set {
	with := set.Clone()
	for _, i := range group {
		with.Add(i)
	}
	if !k.reachesWith(with, group, tolerance) {
		return with
	}
	if len(group) > 1 {
		half := len(group) / 2
		set = k.putBack(set, group[:half], tolerance)
		set = k.putBack(set, group[half:], tolerance)
	}
	return set
}

// failingAround is the known failing set that holds the given one.
func (k *knowledge) failingAround(set gamut.Set, tolerance float64) failing {
	for _, f := range k.failings {
		if f.best > tolerance && set.SubsetOf(f.set) {
			return f
		}
	}
	return failing{set: set, best: tolerance}
}

func union(a, b gamut.Set) gamut.Set {
	out := a.Clone()
	for i := range b {
		out[i] |= b[i]
	}
	return out
}

func minus(a, b gamut.Set) gamut.Set {
	out := a.Clone()
	for i := range b {
		out[i] &^= b[i]
	}
	return out
}

func intersection(a, b gamut.Set) gamut.Set {
	out := a.Clone()
	for i := range b {
		out[i] &= b[i]
	}
	return out
}
