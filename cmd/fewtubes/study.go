package main

import (
	"fmt"
	"math"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// studyValues finds the smallest palette for a study of a reference in greys, or
// takes the tubes given, and answers with the ladder of its mixes.
func studyValues(c *cli.Context) error {
	if c.NArg() != 1 {
		return userError("values --study takes one photograph, the reference; name it as in fewtubes values --study reference.jpg")
	}
	levels := 0
	if c.IsSet("levels") {
		var err error
		if levels, err = levelsFlag(c); err != nil {
			return err
		}
	}
	out, err := boardOutput(c)
	if err != nil {
		return err
	}
	tubes, err := readStudyTubes(c)
	if err != nil {
		return err
	}
	picture, err := openForValues(c, c.Args().First())
	if err != nil {
		return err
	}
	study := values.NewStudy(values.Greys(picture), levels)
	doc, err := tubes.answer(c, studyScene(&study))
	if err != nil {
		return err
	}
	var unwritten error
	if out != "" {
		unwritten = writePNG(c, out, study.Board())
	}
	return show(c, nil, doc, unwritten)
}

// studyTubes are the tubes a study may be mixed from, and by which names.
type studyTubes struct {
	all     *catalog.Catalogue
	palette []string // these and no others; empty: the smallest palette
	keep    []string // which holds these
}

func readStudyTubes(c *cli.Context) (t studyTubes, err error) {
	if t.all, err = stock(c); err != nil {
		return t, err
	}
	palette, err := namedTubes(c, t.all, "palette")
	if err != nil {
		return t, err
	}
	keep, err := namedTubes(c, t.all, "keep")
	if err != nil {
		return t, err
	}
	if palette != nil && keep != nil {
		return t, userError("--palette names the whole palette and --keep a part of one; give one of them")
	}
	t.palette, t.keep = idsOf(palette), idsOf(keep)
	return t, nil
}

// answer mixes the greys of a study.
func (t studyTubes) answer(c *cli.Context, s scene.Scene) (*report.Choice, error) {
	s.Limits.Keep = t.keep
	problem := s.Problem(t.all)
	words := report.Scene{Measures: hand.Usual(), Title: s.Title, Tolerance: s.Tolerance, Limits: report.LimitWords(&problem.Limits)}
	done := working(c.App.ErrWriter, "choosing tubes")
	defer done()
	session, err := solver.NewSession(problem)
	if err != nil {
		return nil, err
	}
	if len(t.palette) > 0 {
		palette, missed, err := session.Check(c.Context, t.palette, nil)
		if err != nil {
			return nil, err
		}
		return report.NewCheck(words, &problem, palette, missed), nil
	}
	answer, err := session.Choose(c.Context, problem.Limits, problem.Prefer, nil)
	if err != nil {
		return nil, err
	}
	return report.NewChoice(words, &problem, answer), nil
}

// studyScene is the levels of a study as neutral greys; the area of each is
// what lies nearest to it.
func studyScene(study *values.Study) scene.Scene {
	s := scene.Scene{Title: "Value study", Tolerance: scene.DefaultTolerance, Light: colour.D65().Name}
	for k, level := range study.Plan.Levels {
		l := math.Round(level*10) / 10
		s.Targets = append(s.Targets, scene.Target{
			Name: fmt.Sprintf("value %.2f", l/10), Colour: fmt.Sprintf("lab(%.1f 0 0)", l),
			Lab: colour.Lab{L: l}, Area: math.Round(1000*study.Shares[k]) / 10,
		})
	}
	return s
}
