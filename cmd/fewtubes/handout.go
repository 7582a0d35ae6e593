package main

import (
	"fmt"
	"slices"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/sheet"

	"github.com/urfave/cli/v2"
)

func handoutCommand() *cli.Command {
	return &cli.Command{
		Name:      "handout",
		Usage:     "a class sheet to print, one page: the scene, the palette, recipes by plane, order of work",
		ArgsUsage: "SCENE.toml",
		Flags: slices.Concat(sheetFlags(), []cli.Flag{
			munsellFlag(),
		}, recipeFlags()),
		Action: handout,
	}
}

func handout(c *cli.Context) error {
	scenePath, err := sceneArgument(c)
	if err != nil {
		return err
	}
	path, paper, err := sheetOutput(c, scenePath, c.String("own"))
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
	page.Munsell = c.Bool("munsell")
	pdf, err := page.PDF(paper)
	if err != nil {
		return userError("handout: %w", err)
	}
	if err := writeOutput(c, path, pdf); err != nil {
		return err
	}
	_, err = fmt.Fprintf(c.App.Writer, "%s: %s from %s on one page of %s.\n", plain.Clean(path),
		howMany(len(palette.Targets), "colour"), howMany(len(palette.Tubes), "tube"), paper.Name)
	return err
}
