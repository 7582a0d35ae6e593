package report

import (
	"context"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// LearnChosen asks what there is to learn about the best palette of a choice.
func LearnChosen(ctx context.Context, s *solver.Session, p *solver.Problem, a *solver.Answer) (*Learned, error) {
	l, err := learn(ctx, s, p, p.Limits, &a.Palettes[0])
	if err != nil {
		return nil, err
	}
	if l.Disjoint, err = s.DisjointNeeds(ctx, a); err != nil {
		return nil, err
	}
	l.Varnished, err = s.Varnished(ctx, p.Limits, a.Palettes[0].Tubes, slices.Concat(a.Unreachable, a.Missed))
	return l, err
}

// LearnKept asks about a palette the painter has: besides, which tubes to add
// and which to leave at home.
func LearnKept(ctx context.Context, s *solver.Session, p *solver.Problem, palette *solver.Palette, missed []solver.Miss) (*Learned, error) {
	limits := solver.Limits{Own: p.Limits.Own}
	l, err := learn(ctx, s, p, limits, palette)
	if err != nil {
		return nil, err
	}
	if l.Additions, err = s.Additions(ctx, palette.Tubes, p.Limits.Own); err != nil {
		return nil, err
	}
	if l.AtHome, err = s.AtHome(ctx, palette.Tubes); err != nil {
		return nil, err
	}
	if l.Spare, err = s.BestSpare(ctx, palette.Tubes); err != nil {
		return nil, err
	}
	l.Varnished, err = s.Varnished(ctx, limits, palette.Tubes, missed)
	return l, err
}

func learn(ctx context.Context, s *solver.Session, p *solver.Problem, limits solver.Limits, palette *solver.Palette) (*Learned, error) {
	second := secondLightOf(p.Light)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	l := &Learned{Fragile: s.Sensitivity(palette), SecondLight: second.Name}
	l.Drifts, l.Apart = s.Drifts(palette, second)
	var err error
	if l.Why, err = s.Why(ctx, palette.Tubes); err != nil {
		return nil, err
	}
	l.Swaps, err = s.Swaps(ctx, limits, palette.Tubes)
	return l, err
}

// secondLightOf is a warm lamp, or daylight for a scene lit by the lamp.
func secondLightOf(first *colour.Light) *colour.Light {
	if first.Name == colour.A().Name {
		return colour.D65()
	}
	return colour.A()
}
