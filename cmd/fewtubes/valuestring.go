package main

import (
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/recipe"

	"github.com/urfave/cli/v2"
)

// valueString answers mix --string.
func valueString(c *cli.Context, table *mixing.Table, target colour.Lab, tolerance float64, byHand hand.Measures) error {
	n := c.Int("string")
	if n < 2 || n > recipe.MostString {
		return userError("--string %d is no value string; write 2 to %d", n, recipe.MostString)
	}
	if byHand.Exact {
		return userError("--string and --recipes exact cannot go together: a string is mixed by hand; leave one of them out")
	}
	if len(byHand.Bases) > 0 {
		return userError("--string and --base cannot go together: a string has a start of its own; leave one of them out")
	}
	done := working(c.App.ErrWriter, "mixing")
	found, err := table.ValueString(c.Context, target, tolerance, n, byHand)
	done()
	if err != nil {
		return err
	}
	return show(c, nil, piles.NewValueString(table, &found, tolerance, c.Bool("munsell")))
}
