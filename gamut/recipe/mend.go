package recipe

import (
	"errors"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Addition is what to add to a pile, in whole parts of the pile and touches.
type Addition struct {
	Parts  []Part // of tubes, the largest first; empty: nothing helps
	Lab    colour.Lab
	DE     float64 // CIEDE2000 to the target
	Within bool    // the tolerance
}

// Total is the number of parts added; a touch counts a quarter.
func (a *Addition) Total() float64 { return (&Recipe{Parts: a.Parts}).Total() }

// ErrPile is wrapped by every refusal of a pile.
var ErrPile = errors.New("recipe: this is not a pile of paint")

// Mend finds what a hand would add to a pile: of one paint, and of two. Amounts of
// the pile are parts; of each paint added it takes up to three touches, where the pile has
// four parts, or up to eight parts, of a larger pile as many as lie there. Touches need
// not be steady as in a recipe: they are added one by one, with an eye on the pile. An addition is the fewest parts that come within the tolerance, else
// the nearest. Two paints are offered where they come within and one does not, or
// come nearer than one by more than half a unit; one where it comes nearer than the
// pile as it lies. The model is shifted in CIELAB by what the pile was seen to
// differ from it, as in gamut.Correct.
func Mend(m *gamut.Mixer, pile gamut.Pile, target Target, palette set.Set) (one, two Addition, err error) {
	w, err := newMender(m, pile, target)
	if err != nil {
		return one, two, err
	}
	lying := colour.DE2000(w.seen(m.Evaluate(pile.Paints, pile.Amounts)), target.Lab)
	tubes := palette.Members()
	w.limit = lying
	for _, t := range tubes {
		w.add([]int{t})
	}
	one = w.best.addition(w)
	w.best = mending{}
	if w.limit = lying; len(one.Parts) > 0 {
		w.limit = one.DE - mayLose
	}
	for i, t := range tubes {
		for _, u := range tubes[i+1:] {
			w.add([]int{t, u})
		}
	}
	two = w.best.addition(w)
	return one, two, nil
}

// mender tries additions to one pile.
type mender struct {
	m         *gamut.Mixer
	meter     *gamut.Meter
	pile      gamut.Pile
	target    Target
	shift     colour.Lab
	most      int     // parts of one paint
	touches   bool    // the pile is large enough for them
	limit     float64 // an addition must come nearer
	paints    []int
	volumes   []float64
	best      mending
	quartered []int
}

// mending is an addition that has been tried.
type mending struct {
	paints   []int
	quarters []int
	total    int
	de       float64
}

func newMender(m *gamut.Mixer, pile gamut.Pile, target Target) (*mender, error) {
	if len(pile.Paints) == 0 || len(pile.Paints) != len(pile.Amounts) {
		return nil, ErrPile
	}
	total := 0.0
	for i, a := range pile.Amounts {
		if p := pile.Paints[i]; p < 0 || p >= m.Len() || !(a > 0) || math.IsInf(a, 0) {
			return nil, ErrPile
		}
		total += a
	}
	const mostParts = 1000
	w := &mender{m: m, meter: m.Meter(), pile: pile, target: target, touches: total >= touchInto/4}
	w.most = max(mostOfOne, int(math.Ceil(min(total, mostParts))))
	if pile.Seen != nil {
		is := m.Evaluate(pile.Paints, pile.Amounts)
		w.shift = colour.Lab{L: pile.Seen.L - is.L, A: pile.Seen.A - is.A, B: pile.Seen.B - is.B}
	}
	return w, nil
}

// seen is a predicted colour as it would be seen.
func (w *mender) seen(lab colour.Lab) colour.Lab {
	return colour.Lab{L: lab.L + w.shift.L, A: lab.A + w.shift.A, B: lab.B + w.shift.B}
}

// add tries every amount of these paints.
func (w *mender) add(paints []int) {
	w.paints = append(append(w.paints[:0], w.pile.Paints...), paints...)
	w.quartered = make([]int, len(paints))
	var amount func(at int)
	amount = func(at int) {
		if at == len(paints) {
			w.try(paints)
			return
		}
		for q := touch; w.touches && q < 4; q++ {
			w.quartered[at] = q
			amount(at + 1)
		}
		for n := 1; n <= w.most; n++ {
			w.quartered[at] = 4 * n
			amount(at + 1)
		}
	}
	amount(0)
}

func (w *mender) try(paints []int) {
	c := mending{paints: paints, quarters: w.quartered}
	for _, q := range w.quartered {
		c.total += q
	}
	c.de = w.de()
	if c.de > w.limit || !w.before(&c) {
		return
	}
	c.quarters = slices.Clone(w.quartered)
	w.best = c
}

// de is the difference with the quarters on hand added.
func (w *mender) de() float64 {
	w.volumes = append(w.volumes[:0], w.pile.Amounts...)
	for _, q := range w.quartered {
		w.volumes = append(w.volumes, float64(q)/4)
	}
	return colour.DE2000(w.seen(w.meter.Lab(w.paints, w.volumes)), w.target.Lab)
}

// before reports whether c is better than the best so far: within the tolerance
// the fewest parts, beyond it the nearest.
func (w *mender) before(c *mending) bool {
	b := &w.best
	within, was := c.de <= w.target.Tolerance, len(b.paints) > 0 && b.de <= w.target.Tolerance
	switch {
	case len(b.paints) == 0 || within != was:
		return len(b.paints) == 0 || within
	case within && c.total != b.total:
		return c.total < b.total
	}
	return portable.Compare(c.de, b.de, portable.Fine) < 0
}

// addition is the best found, evaluated anew.
func (c *mending) addition(w *mender) (out Addition) {
	if len(c.paints) == 0 {
		return Addition{}
	}
	paints := append(slices.Clone(w.pile.Paints), c.paints...)
	volumes := slices.Clone(w.pile.Amounts)
	for _, q := range c.quarters {
		volumes = append(volumes, float64(q)/4)
	}
	mix := func() colour.Lab { return w.seen(w.m.Evaluate(paints, volumes)) }
	for i, p := range c.paints {
		part := Part{Ingredient: Ingredient{Paint: p}, Quarters: c.quarters[i]}
		if part.Touch() {
			at := len(w.pile.Paints) + i
			volumes[at] *= 2
			part.Overdone = mix()
			volumes[at] /= 2
		}
		out.Parts = append(out.Parts, part)
	}
	slices.SortStableFunc(out.Parts, func(a, b Part) int { return b.Quarters - a.Quarters })
	out.Lab = mix()
	out.DE = colour.DE2000(out.Lab, w.target.Lab)
	out.Within = out.DE <= w.target.Tolerance
	return out
}
