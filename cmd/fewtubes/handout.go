package main

import (
	"fmt"
	"slices"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/sheet"
	"fewtubes/cmd/fewtubes/internal/values"

	"github.com/urfave/cli/v2"
)

func handoutCommand() *cli.Command {
	return &cli.Command{
		Name:      "handout",
		Usage:     "a class sheet to print, two sides: scene, value plan, palette and order of work; recipes by plane and base with room to paint",
		ArgsUsage: "SCENE.toml...",
		Flags: slices.Concat(sheetFlags(), []cli.Flag{
			munsellFlag(),
			&cli.IntFlag{Name: "levels", Value: 3, Usage: "flat `VALUES` in the plan, 2 to 5"},
		}, recipeFlags(), handFlags(), baseFlags()),
		Action: handout,
	}
}

func handout(c *cli.Context) error {
	path, paper, err := sheetOutput(c, inputsOf(c)...)
	if err != nil {
		return err
	}
	levels, err := levelsFlag(c)
	if err != nil {
		return err
	}
	q, palette, err := recipes(c)
	if err != nil {
		return err
	}
	title := q.scene.Title
	if title == "" {
		title = "The scene"
	}
	page := sheet.NewHandout(title, &q.problem, palette)
	if m := q.words.Measures; !m.Exact {
		if page, err = sheet.NewHandoutByHand(c.Context, title, &q.problem, palette, m); err != nil {
			return err
		}
	}
	page.Munsell = c.Bool("munsell")
	var grey *values.Grey
	if page.Pictures, grey = q.thumbnails(); grey == nil {
		blocks := q.scene.Mosaic()
		grey = &blocks
	}
	page.Values, page.Plans = *grey, values.Alternatives(*grey, levels)
	pdf, err := page.PDF(paper)
	if err != nil {
		return userError("handout: %w", err)
	}
	leftOut, err := page.LeftOut(paper)
	if err != nil {
		return err
	}
	if err := writeOutput(c, path, pdf); err != nil {
		return err
	}
	_, err = fmt.Fprintf(c.App.Writer, "%s: %s from %s on two sides of %s.\n%s", plain.Clean(path),
		partOf(len(palette.Targets), leftOut), howMany(len(palette.Tubes), "tube"), paper.Name, leftOutSentence(leftOut))
	return err
}

// partOf says how many of n colours a page holds.
func partOf(n int, leftOut []string) string {
	if len(leftOut) == 0 {
		return howMany(n, "colour")
	}
	return fmt.Sprintf("%d of the %s", n-len(leftOut), howMany(n, "colour"))
}

// leftOutSentence names the colours that found no room; empty where all did.
func leftOutSentence(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return fmt.Sprintf("Left out for want of room: %s.\n", sheet.Some(names))
}
