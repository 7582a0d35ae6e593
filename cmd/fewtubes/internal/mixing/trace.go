package mixing

import (
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// Of less than leastOfPile of a pile nobody takes a measured amount. Such a
// paint is left out where that costs no more than mayCost times the volume or,
// out of reach, mayMiss of CIEDE2000 (common practice, no source).
const (
	leastOfPile = 1.0 / 200
	mayCost     = 1.25
	mayMiss     = 0.1
)

// measurable is the correction of gamut without traces, as far as others of the
// palette do as well.
func (t *Table) measurable(pile gamut.Pile, want colour.Lab, palette set.Set, tolerance float64) (gamut.Correction, error) {
	c, err := t.mixer.Correct(pile, want, palette, tolerance)
	for err == nil && palette.Len() > 1 {
		trace, found := traceIn(c, pile)
		if !found {
			break
		}
		palette = palette.Clone()
		palette.Remove(trace)
		without, e := t.mixer.Correct(pile, want, palette, tolerance)
		near := without.Reached || (!c.Reached && without.DE <= c.DE+mayMiss)
		if e != nil || !near || without.Added > mayCost*c.Added {
			break
		}
		c = without
	}
	return c, err
}

// traceIn is the paint of the smallest addition, if that is a trace.
func traceIn(c gamut.Correction, pile gamut.Pile) (paint int, found bool) {
	least := 0.0
	for _, amount := range pile.Amounts {
		least += float64(amount * leastOfPile)
	}
	for i, amount := range c.Amounts {
		if amount < least {
			paint, least, found = c.Paints[i], amount, true
		}
	}
	return paint, found
}
