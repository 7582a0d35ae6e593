package main

import (
	"path/filepath"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// question is a scene put to the solver, and the words that go with it.
type question struct {
	from    *origin
	scene   scene.Scene
	stock   *catalog.Catalogue
	problem solver.Problem
	words   report.Scene
}

// ask reads the scene named on the command line and lays the flags over it. The
// solver checks the limits against the catalogue.
func ask(c *cli.Context) (*question, error) { return askFor(c, applyLimits, stock) }

// askFor is ask with a choice of flags to lay over the scene, and of tubes.
func askFor(c *cli.Context, apply func(*cli.Context, *scene.Scene) error, stock func(*cli.Context) (*catalog.Catalogue, error)) (*question, error) {
	s, path, err := readScenes(c)
	if err != nil {
		return nil, err
	}
	from := &origin{c.Command.Name, path, s.Title}
	if err := from.check(c, c.String("html"), inputsOf(c)...); err != nil {
		return nil, err
	}
	if err := apply(c, &s); err != nil {
		return nil, err
	}
	tubes, err := stock(c)
	if err != nil {
		return nil, err
	}
	q := &question{from: from, scene: s, stock: tubes, problem: s.Problem(tubes)}
	byHand, err := measures(c)
	if err != nil {
		return nil, err
	}
	if err := handLimit(c, &q.problem, byHand); err != nil {
		return nil, err
	}
	q.problem.MaxPartsTotal = byHand.Parts
	q.words = report.Scene{Measures: byHand, Title: s.Title, Tolerance: s.Tolerance, Limits: report.LimitWords(&q.problem.Limits)}
	return q, nil
}

// isScene tells a scene from a photograph, by its name.
func isScene(path string) bool { return strings.EqualFold(filepath.Ext(path), ".toml") }

// openPhoto opens an argument that is a photograph.
func openPhoto(c *cli.Context, path string, size int) (*photo.Picture, error) {
	if isScene(path) {
		return nil, userError("%s is a scene, and %s wants photographs; name one, such as meadow.jpg", path, c.Command.Name)
	}
	return photo.Open(path, size)
}

// inputsOf are the files that a command reads besides photographs.
func inputsOf(c *cli.Context) []string { return append(c.Args().Slice(), kitOf(c).path) }
