package main

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/sheet"

	"github.com/urfave/cli/v2"
)

func handoutCommand() *cli.Command {
	return &cli.Command{
		Name:      "handout",
		Usage:     "a class sheet to print, one page: the scene, the palette, recipes by plane, order of work",
		ArgsUsage: "SCENE.toml...",
		Flags: slices.Concat(sheetFlags(), []cli.Flag{
			munsellFlag(),
		}, recipeFlags(), handFlags()),
		Action: handout,
	}
}

func handout(c *cli.Context) error {
	path, paper, err := sheetOutput(c, inputsOf(c)...)
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
	_, err = fmt.Fprintf(c.App.Writer, "%s: %s from %s on one page of %s.\n%s", plain.Clean(path),
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
	const most = 12 // are named
	if len(names) == 0 {
		return ""
	}
	rest := ""
	if n := len(names) - most; n > 0 {
		names, rest = names[:most], fmt.Sprintf("; and %d more", n)
	}
	return fmt.Sprintf("Left out for want of room: %s%s.\n", strings.Join(names, "; "), rest)
}
