package main

import "github.com/urfave/cli/v2"

func chooseCommand() *cli.Command {
	return &cli.Command{
		Name:  "choose",
		Usage: "the smallest palettes that reach a scene",
		Action: func(c *cli.Context) error {
			return userError("choose: not built yet")
		},
	}
}
