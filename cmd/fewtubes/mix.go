package main

import (
	"slices"

	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/scene"

	"github.com/urfave/cli/v2"
)

func mixCommand() *cli.Command {
	return &cli.Command{
		Name:      "mix",
		Usage:     "recipes for one colour in whole parts, how each misses it, and the order of mixing",
		ArgsUsage: "COLOUR",
		Description: "A colour is written #rrggbb, rgb(R G B), lab(L a b), lch(L C h) or in Munsell notation as in \"5GY 5/6\".\n" +
			"Up to five recipes are shown, the plainest that serves first, and what else would do for want of one of its paints.",
		Flags: slices.Concat([]cli.Flag{
			&cli.StringSliceFlag{Name: "palette", Usage: "mix from the tubes in `LIST`, parted by commas", DefaultText: "those of --own"},
			&cli.IntFlag{Name: "paints-per-mix", Value: 4, Usage: "at most `M` paints in a mix"},
			&cli.Float64Flag{Name: "tolerance", Value: scene.DefaultTolerance, Usage: "a recipe serves within `DE` of CIEDE2000"},
			&cli.IntFlag{Name: "string", Usage: "mix the hue of the colour over `N` steps of value, each of the one before by one addition"},
			baseFlag(),
		}, partsFlags(), tableFlags()),
		Action: mix,
	}
}

func mix(c *cli.Context) error {
	if c.NArg() == 0 {
		return userError("mix wants a colour; write it as in fewtubes mix \"lab(52 -8 20)\" --palette titanium-white,yellow-ochre,ultramarine-blue")
	}
	target, err := readColour(joined(c))
	if err != nil {
		return err
	}
	paints, tolerance := c.Int("paints-per-mix"), c.Float64("tolerance")
	if paints < 1 {
		return userError("--paints-per-mix %d is no mix; write 1 or more", paints)
	}
	if err := checkTolerance(tolerance); err != nil {
		return err
	}
	byHand, err := measures(c)
	if err != nil {
		return err
	}
	all, sight, err := atTable(c)
	if err != nil {
		return err
	}
	tubes, err := paletteOf(c, all)
	if err != nil {
		return err
	}
	if len(tubes) == 0 {
		return userError("mix wants the tubes to mix from; write --palette ID,ID,... or --own FILE (fewtubes tubes lists the ids)")
	}
	sight.PaintsPerMix = paints
	if err := readBases(c, all, &byHand); err != nil {
		return err
	}
	if err := inPalette(&byHand, idsOf(tubes)); err != nil {
		return err
	}
	table, err := mixing.NewTable(tubes, sight)
	if err != nil {
		return err
	}
	if c.IsSet("string") {
		return valueString(c, table, target, tolerance, byHand)
	}
	done := working(c.App.ErrWriter, "mixing")
	var found mixing.Recipes
	if byHand.Exact {
		found = table.Recipes(target, byHand.Parts)
		found.BestFirst(tolerance)
	} else {
		found, err = table.ByHand(c.Context, target, tolerance, byHand)
	}
	done()
	if err != nil {
		return err
	}
	return show(c, nil, piles.NewMixes(table, found, tolerance, c.Bool("munsell")))
}
