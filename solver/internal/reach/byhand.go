package reach

import (
	"context"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
)

// byHand is the oracle of paints mixed by hand: all sets of tubes that reach a target
// are on its lists. Its tolerances are those of the targets, none nearer.
type byHand struct {
	*mixing // for what is asked only where there are no lists
	lists   *recipe.ByHand
}

// NewByHand asks what mixes the targets of a mixer by hand.
func NewByHand(mixer *gamut.Mixer, targets []recipe.Target, lists *recipe.ByHand) Oracle {
	m := &mixing{mixer: mixer}
	for _, t := range targets {
		m.targets = append(m.targets, t.Lab)
	}
	return remember(&byHand{m, lists}, len(targets))
}

// Within at verdict effort only says whether the lists hold a mix: what a proof asks.
func (h *byHand) Within(t int, palette set.Set, tolerance float64, e gamut.Effort) (gamut.Mix, bool) {
	if e == gamut.Verdict {
		mix, ok := h.lists.Serves(context.Background(), t, palette)
		if !ok {
			mix.DE = math.Nextafter(tolerance, math.Inf(1))
		}
		return mix, ok
	}
	mix := h.lists.Nearest(t, palette)
	return mix, mix.DE <= tolerance
}

func (h *byHand) Closest(t int, palette set.Set, _ gamut.Effort) gamut.Mix {
	return h.lists.Nearest(t, palette)
}

func (h *byHand) WithinBy(t int, palette set.Set, _ []int, _ float64) (gamut.Mix, bool) {
	return h.lists.Serves(context.Background(), t, palette)
}

// Swap finds nothing: a recipe with another tube is another recipe.
func (h *byHand) Swap(int, *gamut.Mix, int, int) gamut.Mix { return gamut.Mix{DE: math.Inf(1)} }

func (h *byHand) Lists() bool { return true }

func (h *byHand) Brings(t int, palette set.Set, tube int, _ float64) bool {
	with := palette.Clone()
	with.Add(tube)
	_, ok := h.lists.Serves(context.Background(), t, with)
	return ok
}

func (h *byHand) Promise(ctx context.Context, t int, domain set.Set, _ float64) ([]int, error) {
	least, err := h.lists.Least(ctx, t, domain)
	stands := make([]int, h.mixer.Len())
	for _, tubes := range least {
		for _, p := range tubes {
			stands[p]++
		}
	}
	return stands, err
}

func (h *byHand) Listed(t int, palette set.Set, _ float64) (gamut.Mix, bool) {
	return h.lists.Serves(context.Background(), t, palette)
}
