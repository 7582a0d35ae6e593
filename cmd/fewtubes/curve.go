package main

import (
	"path/filepath"
	"slices"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func curveCommand() *cli.Command {
	return &cli.Command{
		Name:      "curve",
		Usage:     "how tight a tolerance each number of tubes, and each price, can hold",
		ArgsUsage: "SCENE.toml",
		Description: "Every point answers the same colours: those that the allowed tubes reach together within --tolerance,\n" +
			"or else within the tolerance of the scene.",
		Flags: slices.Concat(limitFlags(), []cli.Flag{ownFlag(),
			&cli.StringFlag{Name: "svg", Usage: "also draw the curve into `FILE`"},
			&cli.StringFlag{Name: "png", Usage: "also draw the curve into `FILE`"},
		}, outputFlags()),
		Action: curve,
	}
}

func curve(c *cli.Context) error {
	for _, format := range []string{"svg", "png"} {
		if err := checkOutput(c.String(format), c.Bool("force"), c.Args().First()); err != nil {
			return err
		}
	}
	if err := apart(c.String("svg"), c.String("png"), c.String("html")); err != nil {
		return err
	}
	q, err := ask(c)
	if err != nil {
		return err
	}
	session, err := solver.NewSession(q.problem)
	if err != nil {
		return err
	}
	done := working(c.App.ErrWriter, "following the curve")
	found, err := session.Curve(c.Context, q.problem.Limits, q.scene.Tolerance)
	done()
	if err != nil {
		return err
	}
	doc := report.NewCurve(q.words, &q.problem, found)
	for _, format := range []string{"svg", "png"} {
		if err := drawCurve(doc, format, c.String(format)); err != nil {
			return err
		}
	}
	return show(c, doc)
}

// apart refuses one file named twice for what is to be written.
func apart(paths ...string) error {
	for i, path := range paths {
		if path != "" && slices.ContainsFunc(paths[:i], func(p string) bool { return p != "" && filepath.Clean(p) == filepath.Clean(path) }) {
			return userError("%s is named twice: give each output a file of its own", path)
		}
	}
	return nil
}

func drawCurve(doc *report.Curve, format, path string) error {
	if path == "" {
		return nil
	}
	data, err := doc.Chart(format)
	if err != nil {
		return err
	}
	return writeOutput(path, data)
}
