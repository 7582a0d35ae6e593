package doubt

import (
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/reach"
)

// A hunt that starts with a good palette has less to look for. What follows finds
// one, and proves nothing.

const (
	sampled   = 40 // boxes in which tubes to add are compared
	exchanged = 6  // tubes that are tried for another, those most like it
)

// enlarge adds tubes to a palette, each time the one that saves most boxes, up to so
// many or until it misses in few enough; and says in how many it does.
func (h *Hunt) enlarge(ctx context.Context, palette set.Set, size, enough int) (set.Set, int, error) {
	tr, err := h.try(ctx, palette, h.n, gamut.Search, explained)
	for err == nil && palette.Len() < size && tr.missed > enough {
		i := h.saver(ctx, palette, tr)
		if i < 0 {
			break
		}
		palette = palette.Clone()
		palette.Add(i)
		if tr, err = h.try(ctx, palette, h.n, gamut.Search, explained); err == nil && tr.missed > enough {
			if palette, tr, err = h.exchange(ctx, palette, tr); err == nil {
				tr, err = h.try(ctx, palette, h.n, gamut.Search, explained)
			}
		}
	}
	if err != nil {
		return nil, 0, err
	}
	return palette, tr.missed, nil
}

// without is the best that is found by leaving one tube of a palette out; nil: none may be.
func (h *Hunt) without(ctx context.Context, palette set.Set) (best set.Set, missed int, err error) {
	missed = h.n + 1
	for _, i := range set.Minus(palette, h.rules.Keep).Members() {
		less := palette.Clone()
		less.Remove(i)
		if best, missed, err = h.better(ctx, best, missed, less); err != nil {
			return nil, 0, err
		}
	}
	if best == nil {
		return nil, missed, nil
	}
	tr, err := h.try(ctx, best, h.n, gamut.Search, 1)
	if err == nil && tr.missed < h.n*9/10 { // below that no one tube makes it good
		if best, tr, err = h.exchange(ctx, best, tr); err == nil {
			tr, err = h.try(ctx, best, h.n, gamut.Search, 1)
		}
	}
	if err != nil {
		return nil, 0, err
	}
	return best, tr.missed, nil
}

// better is the palette of two that misses in fewer boxes, at a quick look, the first
// where they are equal.
func (h *Hunt) better(ctx context.Context, best set.Set, missed int, other set.Set) (set.Set, int, error) {
	tr, err := h.try(ctx, other, missed-1, gamut.Quick, 1)
	if err != nil || tr.missed >= missed || tr.tried < h.n {
		return best, missed, err
	}
	return other, tr.missed, nil
}

// saver is the tube that, added to a palette, saves most of the boxes in which that was
// tried and missed; < 0: none may be added.
func (h *Hunt) saver(ctx context.Context, palette set.Set, tr *trial) int {
	near := h.near(palette)
	var boxes []int
	for box, m := range tr.misses {
		if m != nil && m.Len() > 0 && len(boxes) < sampled {
			boxes = append(boxes, box)
		}
	}
	may := set.Minus(h.rules.Allowed, palette).Members()
	may = slices.DeleteFunc(may, func(i int) bool { return !h.rules.Keeps(plus(palette, i)) })
	saves := make([]set.Set, len(boxes)) // per box
	parallel.Each(len(boxes), func(k int) {
		saves[k] = set.New(len(h.b.Tubes))
		for _, i := range may {
			missed := slices.ContainsFunc(tr.misses[boxes[k]].Members(), func(t int) bool {
				return ctx.Err() != nil || !h.mixers[boxes[k]].Resettles(h.b.Targets[t], plus(palette, i), near[t], h.b.Tolerance[t])
			})
			if !missed {
				saves[k].Add(i)
			}
		}
	})
	most, gain := -1, make([]int, len(h.b.Tubes))
	for _, s := range saves {
		for _, i := range s.Members() {
			gain[i]++
		}
	}
	for _, i := range may {
		if most < 0 || gain[i] > gain[most] {
			most = i
		}
	}
	return most
}

// exchange takes one tube of a palette after another for one most like it, where the
// palette then misses in fewer boxes.
func (h *Hunt) exchange(ctx context.Context, palette set.Set, tr *trial) (set.Set, *trial, error) {
	for _, out := range set.Minus(palette, h.rules.Keep).Members() {
		alike := slices.DeleteFunc(slices.Clone(h.core.Oracle.Alike(out)), func(i int) bool {
			return palette.Has(i) || !h.rules.Keeps(instead(palette, out, i))
		})
		for _, in := range alike[:min(exchanged, len(alike))] {
			with := instead(palette, out, in)
			then, err := h.try(ctx, with, tr.missed-1, gamut.Quick, 1)
			if err != nil {
				return nil, nil, err
			}
			if then.missed < tr.missed && then.tried == h.n {
				palette, tr = with, then
				break
			}
		}
	}
	return palette, tr, nil
}

func plus(palette set.Set, in int) set.Set {
	out := palette.Clone()
	out.Add(in)
	return out
}

func instead(palette set.Set, out, in int) set.Set {
	with := plus(palette, in)
	with.Remove(out)
	return with
}

// near are the mixes of a palette as the tubes stand, per target.
func (h *Hunt) near(palette set.Set) []gamut.Near {
	near := make([]gamut.Near, len(h.b.Targets))
	parallel.Each(len(h.judged), func(i int) {
		t := h.judged[i]
		mix := reach.Alone(h.core.Oracle, t, palette)
		near[t] = h.b.Mixer.Near(&mix)
	})
	return near
}
