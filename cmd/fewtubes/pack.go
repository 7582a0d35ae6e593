package main

import (
	"io"
	"slices"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/packing"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func packCommand() *cli.Command {
	return &cli.Command{
		Name:      "pack",
		Usage:     "how much paint a picture takes: ml per tube, tubes to carry, drying order, cautions",
		ArgsUsage: "SCENE.toml...",
		Flags: slices.Concat([]cli.Flag{
			&cli.StringFlag{Name: "size", Usage: "the picture is `WIDTHxHEIGHT`, as in 30x40cm, 300x400mm or 12x16in"},
			&cli.IntFlag{Name: "coats", Value: packing.DefaultCoats, Usage: "paint it over `N` times"},
			&cli.Float64Flag{Name: "film", Value: packing.DefaultFilmMM, Usage: "each coat is `MM` thick, wet"},
			&cli.Float64Flag{Name: "waste", Value: packing.DefaultWaste, Usage: "`FRACTION` of the paint laid that stays on palette, knife and brush besides"},
			&cli.BoolFlag{Name: "json", Usage: "print JSON instead of text", DisableDefaultText: true},
		}, recipeFlags(), handFlags()),
		Action: pack,
	}
}

func pack(c *cli.Context) error {
	job, err := packJob(c)
	if err != nil {
		return err
	}
	q, palette, err := recipes(c)
	if err != nil {
		return err
	}
	if err := q.byHand(c, palette); err != nil {
		return err
	}
	plan, err := packing.New(q.scene.Title, job, &q.problem, palette)
	if err != nil {
		return err
	}
	if err := shown.Finite(plan); err != nil {
		return err
	}
	if c.Bool("json") {
		return printJSON(c, plan)
	}
	_, err = io.WriteString(c.App.Writer, plan.Text(terminalStyle(c.App.Writer).Width))
	return err
}

// byHand gives a palette the shares of the recipes a hand makes, since those are what
// is squeezed out; with --recipes exact its mixes stay.
func (q *question) byHand(c *cli.Context, palette *solver.Palette) error {
	if q.words.Measures.Exact {
		return nil
	}
	plan, err := hand.New(c.Context, &q.problem, palette.Tubes, q.words.Measures)
	if err != nil {
		return err
	}
	for i := range plan.Recipes {
		palette.Targets[i].Shares = plan.Recipes[i].Shares()
	}
	return nil
}

func packJob(c *cli.Context) (job packing.Job, err error) {
	if c.String("size") == "" {
		return job, userError("pack wants the size of the picture; write it as in --size 30x40cm")
	}
	job = packing.Job{Coats: c.Int("coats"), FilmMM: c.Float64("film"), Waste: c.Float64("waste") + 0} // never minus nothing
	if job.WidthCM, job.HeightCM, err = packing.ParseSize(c.String("size")); err != nil {
		return job, userError("--size: %w", err)
	}
	if err := job.Check(); err != nil {
		return job, userError("pack: %w", err)
	}
	return job, nil
}
