package main

import (
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/learnt"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// steer adds to an answer where the recipes of a palette land in the tubes of other
// makers, how to steer them, and what to swatch first.
func (q *question) steer(c *cli.Context, doc *report.Choice, s *solver.Session, p *solver.Palette) (err error) {
	if err := doc.Steer(c.Context, s, c.Int("draws")); err != nil {
		return err
	}
	record, err := lessonOf(c, p.Tubes)
	if err != nil {
		return err
	}
	doc.SwatchFirst, err = learnt.First(c.Context, s, p, &q.scene, q.stock, record, c.Int("draws"))
	return err
}
