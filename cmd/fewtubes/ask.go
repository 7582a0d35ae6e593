package main

import (
	"os"
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
func ask(c *cli.Context) (*question, error) { return askFor(c, applyLimits) }

// askFor is ask with a choice of flags to lay over the scene.
func askFor(c *cli.Context, apply func(*cli.Context, *scene.Scene) error) (*question, error) {
	path, err := sceneArgument(c)
	if err != nil {
		return nil, err
	}
	s, err := scene.Read(path)
	if err != nil {
		return nil, err
	}
	from := &origin{c.Command.Name, path, s.Title}
	if err := from.check(c, c.String("html"), path, kitOf(c).path); err != nil {
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

func sceneArgument(c *cli.Context) (string, error) {
	switch c.NArg() {
	case 0:
		return "", userError("%s wants a scene file; name it as in fewtubes %[1]s scene.toml", c.Command.Name)
	case 1:
		path := c.Args().First()
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() && !isScene(path) {
			return "", userError("%s: its name does not end in .toml, so it is taken for a photograph; make a scene of it first: fewtubes sample %[1]s -o scene.toml", path)
		}
		return path, nil
	}
	return "", userError("%s takes one scene file and %q is one too many; name one, and put names with blanks in quotes", c.Command.Name, c.Args().Get(1))
}
