package reach

import (
	"context"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
)

// Grow extends a palette within the domain to a maximal set that still misses the
// target. ok is false when the palette reaches the target after all.
//
// Where adding tubes one by one would take a search for each, this starts from
// the whole domain: a mix that is found there names at most a handful of tubes,
// one of which has to stay out. Leaving out the tube that most known mixes need
// keeps the complement, the cut, small. The searches are about as many as the
// tubes in the cut, not in the catalogue.
func (k *Known) Grow(ctx context.Context, palette, domain set.Set, tolerance float64) (cut Failing, ok bool, err error) {
	if k.listed {
		return k.growListed(ctx, palette, domain, tolerance)
	}
	for {
		if err := ctx.Err(); err != nil {
			return Failing{}, false, err
		}
		tubes, ok := k.tentative(ctx, palette, domain, tolerance)
		if err := ctx.Err(); !ok || err != nil {
			return Failing{}, false, err
		}
		if k.KnownToMiss(tubes, tolerance) {
			return k.failingAround(tubes, tolerance), true, nil
		}
		mix, within := k.judge(tubes, tolerance, gamut.Search)
		if !within {
			f := Failing{Set: tubes, Best: mix.DE}
			k.Failings = append(k.Failings, f)
			return f, true, nil
		}
		k.Learn(mix)
	}
}

// judge searches a set that is to be a cut. No tubes at all are infinitely far off.
func (k *Known) judge(tubes set.Set, tolerance float64, e gamut.Effort) (gamut.Mix, bool) {
	if tubes.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}, false
	}
	k.Searches++
	return k.o.Within(k.target, tubes, tolerance, e)
}

// SurelyMisses searches a whole domain, at verdict effort before it says yes.
func (k *Known) SurelyMisses(ctx context.Context, domain set.Set, tolerance float64) (bool, error) {
	for ctx.Err() == nil && !k.Reaches(domain, tolerance, gamut.Search) {
		if _, ok, err := k.Grow(ctx, domain, domain, tolerance); !ok || err != nil {
			return false, err
		}
		for i := range k.Failings {
			if f := &k.Failings[i]; f.Best > tolerance && domain.SubsetOf(f.Set) {
				if k.Ensure(i, tolerance); f.Best > tolerance {
					return true, nil
				}
			}
		}
	}
	return false, ctx.Err()
}

// Ensure searches a cut at verdict effort, once. A mix found within tolerance
// takes the cut back.
func (k *Known) Ensure(i int, tolerance float64) {
	f := &k.Failings[i]
	if f.sure || f.Best <= tolerance {
		return
	}
	mix, within := k.judge(f.Set, tolerance, gamut.Verdict)
	if within {
		if k.Learn(mix); k.listed {
			k.unlisted = append(k.unlisted, mix)
		}
		return
	}
	f.sure = true
	if f.listed {
		f.Best = mix.DE
	}
	f.Best = min(f.Best, mix.DE)
}

// tentative is a maximal failing set by quick searches; nothing when the context
// ends before it is found.
func (k *Known) tentative(ctx context.Context, palette, domain set.Set, tolerance float64) (tubes set.Set, ok bool) {
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
		near, at := k.search(tubes, tolerance, gamut.Quick)
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
func (k *Known) readmit(ctx context.Context, tubes set.Set, out []int, near gamut.Mix, tolerance float64) set.Set {
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
	k         *Known
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
func (k *Known) failingAround(tubes set.Set, tolerance float64) Failing {
	for _, f := range k.Failings {
		if f.Best > tolerance && tubes.SubsetOf(f.Set) {
			return f
		}
	}
	return Failing{Set: tubes, Best: tolerance}
}

// Explain grows cuts for a target the palette misses: the second from the
// palette and all of the first cut, and so on, so that they are disjoint and
// push the bound up together.
func (k *Known) Explain(ctx context.Context, palette, domain set.Set, tolerance float64) (missing bool, err error) {
	if k.Reaches(palette, tolerance, gamut.Search) {
		return false, nil
	}
	for from := palette; ; {
		cut, ok, err := k.Grow(ctx, from, domain, tolerance)
		if err != nil || !ok {
			return missing, err
		}
		missing = true
		needs := set.Minus(domain, cut.Set)
		from = set.Union(from, needs)
		if needs.Len() == 0 || k.KnownToReach(from, tolerance) {
			return missing, nil
		}
	}
}
