package recipe

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/gamut/portable"
)

// Ways lists up to most recipes for one colour, the plainest first: that of the
// whole palette, and those that do without each of its paints, so that a painter
// who is short of one sees what else would do. Recipes that come within the
// tolerance come first, the plainest of them at the head; then the others, the
// nearest first, as far as they are within farBehind of the nearest of all.
// Nothing is prepared for one colour.
func (k *Kitchen) Ways(ctx context.Context, target Target, most int) ([]Recipe, error) {
	if k.wide != nil {
		return k.wide.ways(ctx, target, most)
	}
	first, err := k.without(ctx, target, -1)
	if err != nil || len(first.Parts) == 0 {
		return nil, err
	}
	found := []Recipe{first}
	for _, p := range first.paints() {
		r, err := k.without(ctx, target, p)
		if err != nil {
			return nil, err
		}
		if len(r.Parts) > 0 && !slices.ContainsFunc(found, func(f Recipe) bool { return slices.Equal(f.paints(), r.paints()) }) {
			found = append(found, r)
		}
	}
	nearest := slices.MinFunc(found, func(a, b Recipe) int { return portable.Compare(a.DE, b.DE, portable.Fine) })
	found = slices.DeleteFunc(found, func(r Recipe) bool { return !r.Within && r.DE > nearest.DE+farBehind })
	slices.SortStableFunc(found[1:], plainerFirst)
	return found[:min(len(found), most)], nil
}

// farBehind is how much farther than the nearest a recipe beyond the tolerance may
// lie: five units are seen at a glance (common practice, no source).
const farBehind = 5.0

// without is the recipe for a colour of all paints but one.
func (k *Kitchen) without(ctx context.Context, target Target, paint int) (Recipe, error) {
	out, err := k.plan(ctx, []Target{target}, Limits{Total: k.limits.Total}, paint)
	if err != nil {
		return Recipe{}, err
	}
	return out.Recipes[0], nil
}

// plainerFirst orders recipes as Ways lists them.
func plainerFirst(a, b Recipe) int {
	switch {
	case a.Within != b.Within:
		if a.Within {
			return -1
		}
		return 1
	case !a.Within:
		return portable.Compare(a.DE, b.DE, portable.Fine)
	}
	return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Paints, b.Paints), cmp.Compare(a.Total(), b.Total()), portable.Compare(a.DE, b.DE, portable.Fine))
}

// paints are the tubes of a recipe, ascending.
func (r *Recipe) paints() (out []int) {
	for _, p := range r.Parts {
		out = append(out, p.Paint)
		if p.LetDown() {
			out = append(out, p.Into)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
