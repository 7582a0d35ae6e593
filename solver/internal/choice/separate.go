package choice

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/cover"
)

// aimed is a target under a demand, and how far the palette stays from it.
type aimed struct {
	d   *Demand
	t   int
	far float64 // difference over tolerance; <= 1: reached
}

// mostAtOnce is how many missed targets are explained in a round: the cover
// answers in no time, so it is asked again before the rest are worked on, most
// of which the next palette may reach.
const mostAtOnce = 4

// atOnce is that for a hunt: by lists all are explained in no time, too.
func (h *Hunt) atOnce(missed int) int {
	if h.Few {
		return missed
	}
	return min(mostAtOnce, missed)
}

// separate looks for cuts that the palette does not hit. It is done when every
// target demanded is reached.
func (h *Hunt) separate(ctx context.Context, palette set.Set, waived []bool, on []cover.Switch) (done bool, err error) {
	left := h.missing(palette, waived, on)
	for len(left) > 0 {
		now := left[:h.atOnce(len(left))]
		left = left[len(now):]
		found := make([]bool, len(now))
		errs := make([]error, len(now))
		parallel.Each(len(now), func(i int) {
			j := now[i]
			found[i], errs[i] = h.known[j.t].Explain(ctx, palette, h.rules.Allowed, j.d.tolerance[j.t])
		})
		if err := cmp.Or(errs...); err != nil {
			return false, err
		}
		if h.wrong() {
			return false, errRevoked
		}
		if slices.Contains(found, true) {
			if h.pending() == 0 {
				return false, errNoProgress
			}
			return false, nil
		}
	}
	return true, nil
}

// missing are the targets that the palette does not reach at a quick look, the
// farthest first, each once: under the demand that is hardest to meet.
func (h *Hunt) missing(palette set.Set, waived []bool, on []cover.Switch) []aimed {
	hardest := make([]*Demand, len(h.known))
	for _, d := range h.demands {
		if d.Under != 0 && !slices.Contains(on, d.Under) {
			continue
		}
		for _, t := range d.targets {
			if d.forgive && waived[t] {
				continue
			}
			if hardest[t] == nil || d.tolerance[t] < hardest[t].tolerance[t] {
				hardest[t] = d
			}
		}
	}
	far := make([]float64, len(h.known))
	parallel.Each(len(far), func(t int) {
		if d := hardest[t]; d != nil {
			far[t] = h.known[t].Distance(palette, d.tolerance[t]) / d.tolerance[t]
		}
	})
	var out []aimed
	for t, d := range hardest {
		if far[t] > 1 {
			out = append(out, aimed{d, t, far[t]})
		}
	}
	slices.SortStableFunc(out, func(a, b aimed) int { return portable.Compare(b.far, a.far, portable.Fine) })
	return out
}

// wrong reports whether a cut of the cover no longer holds.
func (h *Hunt) wrong() bool {
	return slices.ContainsFunc(h.cuts, func(c cut) bool {
		return h.known[c.target].Failings[c.failing].Best <= c.d.tolerance[c.target]
	})
}

// ensure searches the cuts behind the last failure at verdict effort.
func (h *Hunt) ensure(ctx context.Context) error {
	why := map[*cover.Cut]bool{}
	for _, c := range h.Why() {
		why[c] = true
	}
	byTarget := make([][]cut, len(h.known))
	for _, c := range h.cuts {
		if why[c.Cut] {
			byTarget[c.target] = append(byTarget[c.target], c)
		}
	}
	parallel.Each(len(byTarget), func(t int) {
		for _, c := range byTarget[t] {
			if ctx.Err() == nil {
				h.known[t].Ensure(c.failing, c.d.tolerance[t])
			}
		}
	})
	if h.wrong() {
		return errRevoked
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	return h.area.ensure(ctx)
}
