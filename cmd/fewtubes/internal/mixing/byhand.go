package mixing

import (
	"context"
	"slices"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// ByHand finds up to five ways a hand makes to a colour, the plainest first, and before
// them one from each base of m that serves. Where
// one lets a paint down, its whole parts of tubes stand in Parts, DE and Lab.
func (t *Table) ByHand(ctx context.Context, target colour.Lab, tolerance float64, m hand.Measures) (Recipes, error) {
	out := Recipes{Target: target, Nearest: t.free(t.mixer.Closest(target, set.Full(len(t.Tubes)), gamut.Search))}
	found, err := hand.Ways(ctx, t.Tubes, t.Options, m, recipe.Target{Lab: target, Tolerance: tolerance})
	if err != nil {
		return Recipes{}, err
	}
	if len(m.Bases) > 0 {
		varied, err := hand.Vary(ctx, t.mixer, t.Tubes, m, recipe.Target{Lab: target, Tolerance: tolerance})
		if err != nil {
			return Recipes{}, err
		}
		found = append(varied, found...)
		out.NoBase = len(varied) == 0
	}
	for i := range found {
		r := t.byHand(target, &found[i], m.Parts)
		if out.List = append(out.List, r); r.Free.DE < out.Nearest.DE {
			out.Nearest = r.Free
		}
	}
	return out, nil
}

// byHand is a recipe of a hand, with the order of mixing and what it comes to when
// it is measured freely.
func (t *Table) byHand(target colour.Lab, h *hand.Recipe, maxParts int) Recipe {
	paints, volumes := t.volumes(h)
	mix := t.mixer.Closest(target, set.Of(len(t.Tubes), paints...), gamut.Search)
	out := Recipe{Lab: h.Lab, DE: h.DE}
	if h.Own { // whole parts of the same tubes stand beside it
		out = t.recipe(target, t.mixer.Recipe(target, mix, maxParts), mix, maxParts)
		out.LetDown = nil
	} else {
		for _, step := range t.mixer.MixingOrder(paints, volumes) {
			out.Parts = append(out.Parts, solver.Part{ID: t.Tubes[step.Paint].ID})
			out.Pulls = append(out.Pulls, step.Pull)
		}
	}
	out.Hand, out.Free = h, t.free(t.mixer.Nearer(target, mix, paints, volumes))
	return out
}

// BestFirst puts the recipes that come within the tolerance first, as they stand,
// and the others behind them, the nearest first.
func (r *Recipes) BestFirst(tolerance float64) {
	slices.SortStableFunc(r.List, func(a, b Recipe) int {
		da, db := a.bestDE(), b.bestDE()
		switch within := da <= tolerance; {
		case within != (db <= tolerance):
			if within {
				return -1
			}
			return 1
		case within:
			return 0
		}
		return portable.Compare(da, db, portable.Fine)
	})
}
