package main

import (
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// learnAll asks what there is to learn about the best palette of a choice.
func (q *question) learnAll(c *cli.Context, s *solver.Session, a *solver.Answer) (*report.Learned, error) {
	return report.LearnChosen(c.Context, s, &q.problem, a)
}

// learnToKeep asks about a palette the painter has.
func (q *question) learnToKeep(c *cli.Context, s *solver.Session, p *solver.Palette, missed []solver.Miss) (*report.Learned, error) {
	return report.LearnKept(c.Context, s, &q.problem, p, missed)
}
