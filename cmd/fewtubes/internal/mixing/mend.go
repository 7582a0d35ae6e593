package mixing

import (
	"context"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
)

// Mend is Correct by the measures of a hand: whole parts of the pile and touches, of
// one paint and of two. The new pile is the plainest recipe.
func (t *Table) Mend(ctx context.Context, have []Amount, want colour.Lab, seen *colour.Lab, palette []string, tolerance float64) (Correction, error) {
	out := Correction{Have: have, Predicted: t.Colour(have), Seen: seen, Want: want, Tolerance: tolerance, ByHand: true}
	if seen != nil {
		out.shift = colour.Lab{L: seen.L - out.Predicted.L, A: seen.A - out.Predicted.A, B: seen.B - out.Predicted.B}
	}
	out.Lab = out.shifted(out.Predicted)
	out.LyingDE = colour.DE2000(out.Lab, want)
	out.DE, out.Reached = out.LyingDE, out.LyingDE <= tolerance
	if !out.Reached {
		paints, volumes := t.places(have)
		held := set.New(len(t.Tubes))
		for _, id := range palette {
			held.Add(t.place(id))
		}
		ways, err := hand.Mend(t.mixer, t.Tubes, gamut.Pile{Paints: paints, Amounts: volumes, Seen: seen}, recipe.Target{Lab: want, Tolerance: tolerance}, held)
		if err != nil {
			return out, err
		}
		out.takeWays(t, ways)
	}
	return out, t.freshByHand(ctx, &out, palette)
}

// takeWays keeps what may be added, and makes the first that reaches the colour, or
// else the nearest, the addition.
func (c *Correction) takeWays(t *Table, ways []hand.Recipe) {
	for i := range ways {
		w := Way{Recipe: ways[i]}
		for _, p := range ways[i].Parts {
			w.Add = append(w.Add, Amount{p.Tube, p.Parts()})
		}
		t.sortAdditions(c.Have, w.Add)
		w.Added = total(w.Add) / total(c.Have)
		c.Ways = append(c.Ways, w)
		if !c.Reached && w.DE < c.DE {
			c.Add, c.Lab, c.DE, c.Reached, c.Added = w.Add, w.Lab, w.DE, w.Within, w.Added
		}
	}
}

// freshByHand is a new pile of the palette and the tubes of the old.
func (t *Table) freshByHand(ctx context.Context, c *Correction, palette []string) error {
	var tubes []catalog.Tube
	tubes = append(tubes, t.Used(append(ids(c.Have), palette...)...)...)
	aim := colour.Lab{L: c.Want.L - c.shift.L, A: c.Want.A - c.shift.A, B: c.Want.B - c.shift.B}
	ways, err := hand.Ways(ctx, tubes, t.Options, hand.Usual(), recipe.Target{Lab: aim, Tolerance: c.Tolerance})
	if err != nil || len(ways) == 0 {
		return err
	}
	c.Fresh = t.byHand(aim, &ways[0], hand.Usual().Parts)
	c.moveFresh()
	c.Afresh = c.freshIsBetter()
	return nil
}
