package solver

import (
	"context"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
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
func (k *knowledge) grow(ctx context.Context, palette, domain set.Set, tolerance float64) (cut failing, ok bool, err error) {
	for {
		if err := ctx.Err(); err != nil {
			return failing{}, false, err
		}
		tubes, ok := k.tentative(ctx, palette, domain, tolerance)
		if err := ctx.Err(); !ok || err != nil {
			return failing{}, false, err
		}
		if k.knownToMiss(tubes, tolerance) {
			return k.failingAround(tubes, tolerance), true, nil
		}
		mix, within := k.judge(tubes, tolerance, search)
		if !within {
			f := failing{set: tubes, best: mix.DE}
			k.failings = append(k.failings, f)
			return f, true, nil
		}
		k.learn(mix)
	}
}

// judge searches a set that is to be a cut. No tubes at all are infinitely far off.
func (k *knowledge) judge(tubes set.Set, tolerance float64, e effort) (gamut.Mix, bool) {
	if tubes.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}, false
	}
	k.searches++
	return k.o.within(k.target, tubes, tolerance, e)
}

// surelyMisses searches a whole domain, at verdict effort before it says yes.
func (k *knowledge) surelyMisses(ctx context.Context, domain set.Set, tolerance float64) (bool, error) {
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
func (k *knowledge) tentative(ctx context.Context, palette, domain set.Set, tolerance float64) (tubes set.Set, ok bool) {
	tubes = set.Union(palette, domain)
	count := k.tally(tubes, palette, tolerance)
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
		near, at := k.search(tubes, tolerance, quick)
		if at == nowhere {
			return k.readmit(ctx, tubes, out, near, tolerance), true
		}
		count.add(at)
	}
	return nil, false
}

// readmit puts back tubes left out that do not bring the target within reach
// after all: those that the nearest mix without them has no use for, as long as
// there are any. The rest are left out unasked, which may leave the cut larger
// than need be, but not wrong.
func (k *knowledge) readmit(ctx context.Context, tubes set.Set, out []int, near gamut.Mix, tolerance float64) set.Set {
	r := &readmission{k: k, set: tubes, near: near, tolerance: tolerance}
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
	set       set.Set
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
func (k *knowledge) failingAround(tubes set.Set, tolerance float64) failing {
	for _, f := range k.failings {
		if f.best > tolerance && tubes.SubsetOf(f.set) {
			return f
		}
	}
	return failing{set: tubes, best: tolerance}
}
