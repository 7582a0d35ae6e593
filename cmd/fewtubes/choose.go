package main

import (
	"slices"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

func chooseCommand() *cli.Command {
	return &cli.Command{
		Name:      "choose",
		Usage:     "the smallest palettes that reach every colour of a scene",
		ArgsUsage: "SCENE.toml",
		Flags:     slices.Concat(limitFlags(), []cli.Flag{ownFlag(), strictFlag()}, outputFlags()),
		Action:    choose,
	}
}

func choose(c *cli.Context) error {
	q, err := ask(c)
	if err != nil {
		return err
	}
	answer, cut := q.choose(c)
	if answer == nil {
		return cut
	}
	if err := show(c, report.NewChoice(q.words, &q.problem, answer)); err != nil {
		return err
	}
	if cut != nil {
		return cut // the best found by then has been shown
	}
	return strictly(c, answer.Status)
}

// strictFlag goes with every command whose answer may miss a colour.
func strictFlag() cli.Flag {
	return &cli.BoolFlag{Name: "strict", Usage: "end with exit code 3 when a colour is missed", DisableDefaultText: true}
}

// strictly ends a --strict run whose answer misses a colour.
func strictly(c *cli.Context, status solver.Status) error {
	if c.Bool("strict") && status == solver.SomeMissed {
		return errMissed
	}
	return nil
}
