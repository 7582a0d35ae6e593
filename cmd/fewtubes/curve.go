package main

import (
	"slices"

	"fewtubes/cmd/fewtubes/internal/report/curves"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func curveCommand() *cli.Command {
	return &cli.Command{
		Name:      "curve",
		Usage:     "how tight a tolerance each number of tubes, and each price, can hold",
		ArgsUsage: "SCENE.toml...",
		Description: "Every point answers the same colours: those that the allowed tubes reach together within --tolerance,\n" +
			"or else within the tolerance of the scene.",
		Flags: slices.Concat(limitFlags(), boxFlags(), []cli.Flag{ownFlag(),
			&cli.BoolFlag{Name: "holds", Usage: "also in how many plausible boxes the best palette of each number of tubes holds; takes a while", DisableDefaultText: true}, drawsFlag(),
			&cli.StringFlag{Name: "svg", Usage: "also draw the curve into `FILE`"},
			&cli.StringFlag{Name: "png", Usage: "also draw the curve into `FILE`"},
		}, outputFlags()),
		Action: curve,
	}
}

func curve(c *cli.Context) error {
	if err := apart(c.String("svg"), c.String("png"), c.String("html")); err != nil {
		return err
	}
	if err := checkDraws(c); err != nil {
		return err
	}
	q, err := ask(c)
	if err != nil {
		return err
	}
	inputs := inputsOf(c)
	if err := q.from.check(c, c.String("svg"), inputs...); err != nil {
		return err
	}
	if err := checkOutput(c.String("png"), c.Bool("force"), inputs...); err != nil { // it has no room for a mark
		return err
	}
	session, err := solver.NewSession(q.problem)
	if err != nil {
		return err
	}
	sign := spin(c.App.ErrWriter, "following the curve")
	found, err := session.Curve(c.Context, q.problem.Limits, q.scene.Tolerance, sign.following)
	var sure []solver.SurePoint
	if err == nil && c.Bool("holds") {
		sure, err = session.SureCurve(c.Context, q.problem.Limits, mostSurely, c.Int("draws"), sign.following)
	}
	sign.done()
	if err != nil {
		return q.placed(c, err)
	}
	doc := curves.NewCurve(q.words, &q.problem, found)
	doc.AddSure(sure, c.Int("draws"))
	return show(c, q.from, doc, drawCurve(c, q.from, doc, "svg"), drawCurve(c, nil, doc, "png"))
}

// mostSurely tubes are the last point of a curve of boxes.
const mostSurely = 9

func drawCurve(c *cli.Context, from *origin, doc *curves.Curve, format string) error {
	path := c.String(format)
	if path == "" {
		return nil
	}
	data, err := doc.Chart(format)
	if err != nil {
		return err
	}
	return from.write(c, path, data)
}
