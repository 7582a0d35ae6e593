package main

import (
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// mostTried boxes are more than an answer needs.
const mostTried = 100_000

// drawsFlag goes with the commands that say how sure an answer is.
func drawsFlag() cli.Flag {
	return &cli.IntFlag{Name: "draws", Value: solver.UsualDraws, Usage: "try the answer in `N` plausible boxes, the tubes as other makers may fill them"}
}

// holdsFlag asks for a palette that holds in so many plausible boxes.
func holdsFlag() cli.Flag {
	return &cli.Float64Flag{Name: "holds", Usage: "the smallest palette that holds in `P` per cent of plausible boxes, such as 95", DefaultText: "the tubes as they stand"}
}

// doubtFlag asks how the recipes fare in those boxes.
func doubtFlag() cli.Flag {
	return &cli.BoolFlag{Name: "doubt", Usage: "also say where each recipe lands in the tubes of other makers, how to steer it, and what to swatch first", DisableDefaultText: true}
}

func checkHolds(c *cli.Context) error {
	if p := c.Float64("holds"); c.IsSet("holds") && !(p > 0 && p <= 100) {
		return userError("--holds %v is no share of the boxes; write a number over 0, up to 100", p)
	}
	return nil
}

func checkDraws(c *cli.Context) error {
	if n := c.Int("draws"); n < 1 || n > mostTried {
		return userError("--draws %d is no number of boxes; write one from 1 to %d", n, mostTried)
	}
	return nil
}
