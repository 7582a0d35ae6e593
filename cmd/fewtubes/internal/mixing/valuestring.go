package mixing

import (
	"cmp"
	"context"
	"slices"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/recipe"
)

// ValueString is one hue over steps of value.
type ValueString struct {
	Target  colour.Lab
	Values  []float64 // L*, ascending
	At      int       // the place among them of the mix that it starts with
	Goal    colour.Lab
	Start   Recipe
	Within  bool        // the start: the tolerance
	Lighter []hand.Step // each of the one before it, the first of the start; fewer than Values where no addition helps
	Darker  []hand.Step
	missed  int
	worst   float64
}

// fuller are the chromas a start is tried with, of that asked for: very dark and very
// light mixes have less.
var fuller = [...]float64{1, 0.75, 0.5, recipe.StringChroma}

// ValueString finds n mixes of the hue of a colour, one of them at its own value,
// each of the one before it. Of all values to start at it takes the one that leaves
// the fewest mixes missing or beyond the tolerance; of equals one that lets nothing down,
// then the darkest. There must be a tube on the table.
func (t *Table) ValueString(ctx context.Context, target colour.Lab, tolerance float64, n int, m hand.Measures) (ValueString, error) {
	darkest, lightest := target.L, target.L
	for i := range t.Tubes {
		l := t.mixer.Evaluate([]int{i}, []float64{1}).L
		darkest, lightest = min(darkest, l), max(lightest, l)
	}
	values := recipe.StringValues(target.L, n, darkest, lightest)
	var goals []recipe.Target
	for _, l := range values {
		for _, c := range fuller {
			goal := target.LCh()
			goal.L, goal.C = l, goal.C*c
			goals = append(goals, recipe.Target{Lab: goal.Lab(), Tolerance: tolerance})
		}
	}
	starts, err := hand.Recipes(ctx, t.Tubes, t.Options, m, goals)
	if err != nil {
		return ValueString{}, err
	}
	var best ValueString
	for i := range starts {
		s, err := t.stringFrom(target, tolerance, values, i/len(fuller), &starts[i], m)
		if err != nil {
			return s, err
		}
		if i == 0 || s.before(&best) {
			best = s
		}
	}
	return best, nil
}

// stringFrom is the string that starts with a recipe at one of the values.
func (t *Table) stringFrom(target colour.Lab, tolerance float64, values []float64, at int, start *hand.Recipe, m hand.Measures) (out ValueString, err error) {
	goal := recipe.StringGoal{Of: target, L: values[at]}.For(start.Lab)
	h := *start
	h.DE = colour.DE2000(h.Lab, goal)
	h.Within = h.DE <= tolerance
	out = ValueString{Target: target, Values: values, At: at, Goal: goal, Start: t.byHand(goal, &h, m.Parts), Within: h.Within}
	var pile gamut.Pile
	for _, s := range h.Shares() {
		pile.Paints, pile.Amounts = append(pile.Paints, t.place(s.ID)), append(pile.Amounts, s.Fraction)
	}
	darker := slices.Clone(values[:at])
	slices.Reverse(darker)
	of := recipe.Target{Lab: target, Tolerance: tolerance}
	if out.Darker, err = hand.ValueString(t.mixer, t.Tubes, pile, of, darker, m.Parts); err != nil {
		return out, err
	}
	if out.Lighter, err = hand.ValueString(t.mixer, t.Tubes, pile, of, values[at+1:], m.Parts); err != nil {
		return out, err
	}
	out.worst = h.DE
	if !h.Within {
		out.missed++
	}
	steps := slices.Concat(out.Darker, out.Lighter)
	for _, s := range steps {
		out.worst = max(out.worst, s.DE)
		if !s.Within {
			out.missed++
		}
	}
	out.missed += len(values) - 1 - len(steps)
	return out, nil
}

// before reports whether s is the better string.
func (s *ValueString) before(other *ValueString) bool {
	down := func(s *ValueString) int {
		if s.Start.Hand.Own {
			return 1
		}
		return 0
	}
	order := cmp.Or(cmp.Compare(s.missed, other.missed), cmp.Compare(down(s), down(other)))
	if s.missed > 0 {
		order = cmp.Or(order, portable.Compare(s.worst, other.worst, portable.Shown))
	}
	return cmp.Or(order, cmp.Compare(s.At, other.At)) < 0
}

// IDs are the tubes of all the mixes.
func (s *ValueString) IDs() []string {
	out := s.Start.IDs()
	for _, step := range slices.Concat(s.Darker, s.Lighter) {
		out = append(out, step.Add.Tube)
	}
	return out
}
