package doubt

import (
	"context"
	"errors"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// Sure is the smallest palette that holds in enough boxes, the one of its size that
// holds in most, and what is proven of that.
type Sure struct {
	Palette set.Set
	Missed  int  // boxes
	Enough  bool // in no more than asked for

	AtLeast int // tubes: none of fewer holds in enough boxes
	Least   int // none of its size misses in fewer; equal to Missed where that is settled

	Fewer       set.Set // the best known of one tube fewer; nil: none is asked about
	FewerMissed int
	FewerLeast  int // as Least

	All     int           // boxes in which all allowed tubes together miss
	Missing []int         // per target: boxes in which they do
	Needs   []Need        // that rule out a tube fewer, where such were found
	Limits  []cover.Limit // that stand in the way, where it is not enough
}

// Need is a target that takes one of some tubes in more boxes than may be missed.
type Need struct {
	Target int
	OneOf  set.Set
	Boxes  int // at least
}

// Of all rounds a hunt may take, how many go to each of its questions: the size, the
// best of it, the best of one fewer.
const (
	mostRounds  = 240
	restRounds  = 40
	curveRounds = 20 // of each point of a curve
)

// Sure looks for it, from palettes of one size to begin with, at least one. misses is the
// number of boxes that may be missed.
func (h *Hunt) Sure(ctx context.Context, listed []set.Set, misses int) (*Sure, error) {
	out := &Sure{Missing: make([]int, len(h.b.Targets))}
	all, err := h.try(ctx, h.rules.Allowed, h.n, gamut.Search, len(h.b.Targets))
	if err != nil {
		return nil, err
	}
	out.All = all.missed
	for _, m := range all.misses {
		for _, t := range m.Members() {
			out.Missing[t]++
		}
	}
	most := h.rules.Allowed.Len()
	if h.rules.Most > 0 {
		most = min(most, h.rules.Most)
	}
	goal := max(misses, all.missed)
	from, missed := listed[0], h.n+1
	for _, p := range listed {
		if from, missed, err = h.better(ctx, from, missed, p); err != nil {
			return nil, err
		}
	}
	known, missed, err := h.enlarge(ctx, from, most, goal)
	for err == nil && missed <= goal && known.Len() > 1 {
		less, m, err := h.without(ctx, known)
		if err != nil {
			return nil, err
		}
		if less == nil || m > goal {
			break
		}
		known, missed = less, m
	}
	if err != nil {
		return nil, err
	}
	h.Most = h.Rounds + mostRounds
	size, settled := max(1, h.rules.Keep.Len()), true
	var why *verdict
	var whySize int
	for ; size < known.Len() || missed > goal; size++ {
		palette, m, v, err := h.Within(ctx, size, goal)
		if errors.Is(err, ErrUnsettled) {
			settled = false
			break
		}
		if err != nil {
			return nil, err
		}
		if palette != nil {
			known, missed = palette, m
			break
		}
		why, whySize = v, size
		if size >= most || !slices.Contains(v.c.Blame(), cover.Limit{Kind: cover.Most, At: size}) {
			out.Limits = v.c.Blame()
			size++
			break
		}
	}
	out.AtLeast = size
	if size = known.Len(); missed > goal {
		size = -1 // the limits stand in the way: the best of any number
	}
	b := bounded{known, missed, all.missed}
	if missed > goal && settled {
		b.least = goal + 1
	}
	if settled {
		h.Most = h.Rounds + restRounds
		if b, err = h.best(ctx, size, b); err != nil {
			return nil, err
		}
	}
	out.Palette, out.Missed, out.Least, out.Enough = b.palette, b.missed, b.least, b.missed <= misses
	if out.Enough && why != nil && whySize == b.palette.Len()-1 {
		out.Needs = why.needs(ctx, whySize)
	}
	if n := b.palette.Len() - 1; n >= max(1, h.rules.Keep.Len()) {
		err = h.fewer(ctx, from, n, goal, out)
	}
	return out, err
}

// fewer fills in the best of one tube fewer.
func (h *Hunt) fewer(ctx context.Context, from set.Set, size, goal int, out *Sure) error {
	b := bounded{least: out.All, missed: h.n + 1}
	if out.AtLeast > size {
		b.least = max(b.least, goal+1)
	}
	var err error
	if b.palette, b.missed, err = h.without(ctx, out.Palette); err != nil {
		return err
	}
	if from.Len() == size {
		if b.palette, b.missed, err = h.better(ctx, b.palette, b.missed, from); err != nil {
			return err
		}
	}
	if b.palette != nil {
		tr, err := h.try(ctx, b.palette, h.n, gamut.Search, 1)
		if err != nil {
			return err
		}
		b.missed = tr.missed
	}
	h.Most = h.Rounds + restRounds
	if out.AtLeast > size {
		b, err = h.best(ctx, size, b)
	}
	if b.palette == nil {
		b.palette = set.New(len(h.b.Tubes))
	}
	out.Fewer, out.FewerMissed, out.FewerLeast = b.palette, min(b.missed, h.n), min(b.least, h.n)
	return err
}

// needs are cuts that each fail in more boxes than may be missed and together rule out
// palettes of so many tubes, none to spare; none where single boxes are needed for that.
func (v *verdict) needs(ctx context.Context, size int) (out []Need) {
	var cuts []*cut
	for _, c := range v.h.cuts {
		if c.count > v.misses {
			cuts = append(cuts, c)
		}
	}
	sets := make([]set.Set, len(cuts))
	for i, c := range cuts {
		sets[i] = set.Minus(v.h.rules.Allowed, c.tubes)
	}
	r := v.c.Refuter(sets, size)
	left, result := r.Refute(ctx, set.Full(len(cuts)).Members(), 0)
	if result != cover.Failed {
		return nil
	}
	for i := 0; i < len(left); {
		rest, result := r.Refute(ctx, slices.Delete(slices.Clone(left), i, i+1), 0)
		if result == cover.Failed {
			left = rest
		} else {
			i++
		}
	}
	for _, i := range left {
		out = append(out, Need{cuts[i].target, sets[i], cuts[i].count})
	}
	return out
}

// Curve tells for one tube more after another the palette that misses in fewest boxes,
// in how many, and how few any of its size could miss in. It ends with so many tubes, or
// where all allowed ones do no better. listed are palettes of one size to begin with.
func (h *Hunt) Curve(ctx context.Context, listed []set.Set, most int, point func(palette set.Set, missed, least int)) error {
	all, err := h.try(ctx, h.rules.Allowed, h.n, gamut.Search, len(h.b.Targets))
	if err != nil {
		return err
	}
	if h.rules.Most > 0 {
		most = min(most, h.rules.Most)
	}
	known, missed := listed[0], h.n+1
	for _, p := range listed {
		if known, missed, err = h.better(ctx, known, missed, p); err != nil {
			return err
		}
	}
	best := map[int]set.Set{} // downwards from the size listed; from there upwards one by one
	for p := known; p != nil && p.Len() > 0; {
		best[p.Len()] = p
		if p, _, err = h.without(ctx, p); err != nil {
			return err
		}
	}
	for size := max(1, h.rules.Keep.Len()); size <= min(most, h.rules.Allowed.Len()); size++ {
		if best[size] == nil {
			if best[size-1] == nil || best[size-1].Len() < size-1 {
				break
			}
			if best[size], _, err = h.enlarge(ctx, best[size-1], size, all.missed); err != nil {
				return err
			}
		}
		tr, err := h.try(ctx, best[size], h.n, gamut.Search, 1)
		if err != nil {
			return err
		}
		h.Most = h.Rounds + curveRounds
		b, err := h.best(ctx, size, bounded{best[size], tr.missed, all.missed})
		if err != nil {
			return err
		}
		best[size] = b.palette
		if b.missed < h.n {
			point(b.palette, b.missed, b.least)
		}
		if b.missed == all.missed || b.palette.Len() < size {
			break
		}
	}
	return ctx.Err()
}
