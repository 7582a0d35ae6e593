package main

import (
	"slices"

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

// strictFlag goes with every command whose answer may miss a colour.
func strictFlag() cli.Flag {
	return &cli.BoolFlag{Name: "strict", Usage: "end with exit code 3 when a colour is missed"}
}

func choose(c *cli.Context) error {
	q, err := ask(c)
	if err != nil {
		return err
	}
	_ = q
	return nil
}
