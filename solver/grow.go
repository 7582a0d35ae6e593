package solver

import (
	"context"
	"math"

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
	if k.l != nil {
		return k.growListed(ctx, palette, domain, tolerance)
	}
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
	for ctx.Err() == nil && !k.reaches(domain, tolerance, search) {
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
	return false, ctx.Err()
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
		if k.learn(mix); k.l != nil {
			k.unlisted = append(k.unlisted, mix)
		}
		return
	}
	f.sure = true
	if f.listed {
		f.best = mix.DE
	}
	f.best = min(f.best, mix.DE)
}

// tentative is a maximal failing set by quick searches; nothing when the context
// ends before it is found.
func (k *knowledge) tentative(ctx context.Context, palette, domain gamut.Set, tolerance float64) (set gamut.Set, ok bool) {
	set = union(palette, domain)
	count := k.tally(set, palette, tolerance)
	var out []int
	for ctx.Err() == nil {
		if count.reached {
			return nil, false
		}
		if i := count.mostNeeded(); i != noneNeeded {
			for _, i := range k.withStandIns(count, i) {
				count.remove(i)
				out = append(out, i)
			}
			continue
		}
		near, at := k.search(set, tolerance, quick)
		if at == nowhere {
			return k.readmit(ctx, set, out, near, tolerance), true
		}
		count.add(at)
	}
	return nil, false
}

// readmit puts back tubes left out that do not bring the target within reach
// after all: those that the nearest mix without them has no use for, as long as
// there are any. The rest are left out unasked, which may leave the cut larger
// than need be, but not wrong.
func (k *knowledge) readmit(ctx context.Context, set gamut.Set, out []int, near gamut.Mix, tolerance float64) gamut.Set {
	r := &readmission{k: k, set: set, near: near, tolerance: tolerance}
	for ctx.Err() == nil {
		idle, rest := k.idle(out, &r.near)
		if len(idle) == 0 {
			break
		}
		r.putBack(ctx, idle)
		out = rest
	}
	return r.set
}

// readmission is a failing set while tubes are put back into it.
type readmission struct {
	k         *knowledge
	set       gamut.Set
	near      gamut.Mix // the nearest mix of the set that was seen
	tolerance float64
}

// putBack puts back the tubes of a group that are not needed.
func (r *readmission) putBack(ctx context.Context, group []int) {
	if ctx.Err() != nil {
		return
	}
	with := r.set.Clone()
	for _, i := range group {
		with.Add(i)
	}
	if near, ok := r.k.missesWith(with, group, r.tolerance); ok {
		r.set = with
		if near.DE < r.near.DE {
			r.near = near
		}
		return
	}
	if len(group) > 1 {
		half := len(group) / 2
		r.putBack(ctx, group[:half])
		r.putBack(ctx, group[half:])
	}
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
