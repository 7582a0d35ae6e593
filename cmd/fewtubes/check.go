package main

import "github.com/urfave/cli/v2"

func checkCommand() *cli.Command {
	return &cli.Command{
		Name:  "check",
		Usage: "whether the tubes named can reach a scene",
		Action: func(c *cli.Context) error {
			return userError("check: not built yet")
		},
	}
}
