package main

import "github.com/urfave/cli/v2"

// munsellFlag goes with every command that shows colours.
func munsellFlag() cli.Flag {
	return &cli.BoolFlag{Name: "munsell", Usage: "give each colour in Munsell notation too", DisableDefaultText: true}
}
