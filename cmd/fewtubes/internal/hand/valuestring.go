package hand

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver"
)

// Step is one mix of a value string.
type Step struct {
	Before int // whole parts of the mix before it
	Add    Part
	Shares []solver.Share // volume fractions of the tubes in the whole
	Goal   colour.Lab     // as recipe.Step has it
	Lab    colour.Lab
	DE     float64 // CIEDE2000 to the goal
	Within bool    // the tolerance
}

// ValueString makes mixes of the target's hue at these L*, each of the one before it, the
// first of the pile, as recipe.ValueString does.
func ValueString(m *gamut.Mixer, tubes []catalog.Tube, pile gamut.Pile, target recipe.Target, values []float64, parts int) ([]Step, error) {
	steps, err := recipe.ValueString(m, pile, target, values, set.Full(len(tubes)), recipe.Limits{Total: parts})
	var out []Step
	for i := range steps {
		s := &steps[i]
		step := Step{Before: s.Before, Add: part(tubes, &s.Add, s.Lab), Goal: s.Goal, Lab: s.Lab, DE: s.DE, Within: s.Within}
		for p, v := range s.Volumes {
			if v > 0 {
				step.Shares = append(step.Shares, solver.Share{ID: tubes[p].ID, Fraction: v})
			}
		}
		slices.SortFunc(step.Shares, func(a, b solver.Share) int { return strings.Compare(a.ID, b.ID) })
		out = append(out, step)
	}
	return out, err
}

// Recipes are the recipes of some colours, each by itself: nothing is prepared.
func Recipes(ctx context.Context, tubes []catalog.Tube, sight gamut.Options, m Measures, goals []recipe.Target) ([]Recipe, error) {
	m.Prepared = 0
	k, err := kitchen(tubes, sight, m.limits())
	if err != nil {
		return nil, err
	}
	plan, err := k.Plan(ctx, goals)
	if err != nil {
		return nil, err
	}
	var out []Recipe
	for i := range plan.Recipes {
		out = append(out, told(tubes, &plan.Recipes[i], nil))
	}
	return out, nil
}

// Words are the addition to the parts of the mix before: "4 of that + 1 titanium white".
func (s *Step) Words(before string, name func(id string) string) string {
	one := Recipe{Parts: []Part{s.Add}}
	return strconv.Itoa(s.Before) + " of " + before + " + " + one.Words(name)
}
