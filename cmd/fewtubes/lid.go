package main

import (
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/cmd/fewtubes/internal/sheet"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func lidFlag() cli.Flag {
	return &cli.StringFlag{Name: "lid", Usage: "also print picture, palette and recipes on a card for the lid of the box, one side of A4, to `FILE`.pdf"}
}

// checkLid checks where the card goes before the work is done.
func (q *question) checkLid(c *cli.Context) error {
	if err := apart(c.String("lid"), c.String("html"), c.String("certificate")); err != nil {
		return err
	}
	inputs := []string{q.from.scene, kitOf(c).path}
	for i := range q.scene.Photos {
		inputs = append(inputs, q.photo(i))
	}
	return checkOutput(c.String("lid"), c.Bool("force"), inputs...)
}

// writeLid writes the card, where one is asked for.
func (q *question) writeLid(c *cli.Context, palette *solver.Palette) error {
	path := c.String("lid")
	if path == "" {
		return nil
	}
	title := q.scene.Title
	if title == "" {
		title = "The scene"
	}
	card, err := sheet.NewLid(c.Context, title, &q.problem, palette, q.words.Measures, tubelist.List(q.problem.Tubes).Short(palette.Tubes))
	if err != nil {
		return err
	}
	card.Pictures, _ = q.thumbnails()
	pdf, err := card.PDF()
	if err != nil {
		return userError("--lid: %w", err)
	}
	return writeOutput(c, path, pdf)
}
