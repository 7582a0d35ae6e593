package main

import (
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/gamut/colour"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// learnAll asks what there is to learn about the best palette of a choice.
func (q *question) learnAll(c *cli.Context, s *solver.Session, a *solver.Answer) (*report.Learned, error) {
	l, err := q.learn(c, s, q.problem.Limits, &a.Palettes[0])
	if err != nil {
		return nil, err
	}
	l.Disjoint, err = s.DisjointNeeds(q.problem.Limits, a)
	return l, err
}

// learnToKeep asks about a palette the painter has: besides, which tube to add
// and which to leave at home.
func (q *question) learnToKeep(c *cli.Context, s *solver.Session, p *solver.Palette) (*report.Learned, error) {
	limits := solver.Limits{Budget: -1, Own: q.problem.Limits.Own}
	l, err := q.learn(c, s, limits, p)
	if err != nil {
		return nil, err
	}
	if l.Addition, err = s.BestAddition(limits, p.Tubes); err != nil {
		return nil, err
	}
	l.Spare, err = s.BestSpare(p.Tubes)
	return l, err
}

func (q *question) learn(c *cli.Context, s *solver.Session, limits solver.Limits, p *solver.Palette) (*report.Learned, error) {
	second := secondLight(q.problem.Light)
	l := &report.Learned{Fragile: s.Sensitivity(p), SecondLight: second.Name}
	l.Drifts, l.Apart = s.Drifts(p, second)
	var err error
	if l.Why, err = s.Why(p.Tubes); err != nil {
		return nil, err
	}
	l.Swaps, err = s.Swaps(c.Context, limits, p.Tubes)
	return l, err
}

// secondLight is a warm lamp, or daylight for a scene lit by the lamp.
func secondLight(first *colour.Light) *colour.Light {
	if first.Name == colour.A().Name {
		return colour.D65()
	}
	return colour.A()
}
