package main

import (
	"fmt"
	"math"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// studySteps are the greys of a value study, as many as a painter keeps apart
// (common practice, no source).
const studySteps = 8

// studyValues finds the smallest palette for a study of a reference in greys,
// and the ladder of its mixes.
func studyValues(c *cli.Context) error {
	if c.NArg() != 1 {
		return userError("values --study takes one photograph, the reference; name it as in fewtubes values --study reference.jpg")
	}
	picture, err := photo.Open(c.Args().First(), values.CompareSize)
	if err != nil {
		return err
	}
	tubes, err := stock(c)
	if err != nil {
		return err
	}
	s := studyScene(values.Greys(picture))
	problem := s.Problem(tubes.Tubes())
	problem.Surface = film.Dry
	done := working(c.App.ErrWriter, "choosing tubes")
	answer, err := solver.Choose(c.Context, problem, nil)
	done()
	if err != nil {
		return err
	}
	return show(c, nil, report.NewChoice(report.Scene{Title: s.Title, Tolerance: s.Tolerance}, &problem, answer))
}

// studyScene is a ladder of neutral greys over the values of a picture, moved
// into what paint shows; the area of each step is what lies nearest to it.
func studyScene(g values.Grey) scene.Scene {
	dark, light := values.Extremes(g.L)
	curve := values.ToPaint(dark, light)
	at := func(l float64) float64 {
		if curve == nil {
			return l
		}
		return curve.At(l)
	}
	dark, light = at(dark), at(light)
	step := max((light-dark)/(studySteps-1), 0.1)
	var areas [studySteps]float64
	for _, l := range g.L {
		k := math.Round((at(l) - dark) / step)
		areas[int(min(max(k, 0), studySteps-1))] += 100 / float64(len(g.L))
	}
	s := scene.Scene{Title: "Value study", Tolerance: scene.DefaultTolerance, Light: colour.D65().Name}
	for k, area := range areas {
		l := math.Round((dark+float64(float64(k)*step))*10) / 10
		s.Targets = append(s.Targets, scene.Target{
			Name: fmt.Sprintf("value %.2f", l/10), Colour: fmt.Sprintf("lab(%.1f 0 0)", l),
			Lab: colour.Lab{L: l}, Area: math.Round(area*10) / 10,
		})
	}
	return s
}
