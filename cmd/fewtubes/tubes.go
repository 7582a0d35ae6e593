package main

import "github.com/urfave/cli/v2"

func tubesCommand() *cli.Command {
	return &cli.Command{
		Name:  "tubes",
		Usage: "the catalogue, or one tube in full",
		Action: func(c *cli.Context) error {
			return userError("tubes: not built yet")
		},
	}
}
