package main

import (
	"fewtubes/cmd/fewtubes/internal/report/tubelist"

	"github.com/urfave/cli/v2"
)

// mostDraws is more boxes than anybody asks for.
const mostDraws = 1_000_000

func tubesCommand() *cli.Command {
	return &cli.Command{
		Name:      "tubes",
		Usage:     "the catalogue, or one tube in full with its cautions",
		ArgsUsage: "[ID]",
		Flags: append(outputFlags(),
			&cli.IntFlag{Name: "draw", Usage: "show plausible box `N`: every tube as it may be from another maker", DefaultText: "the tubes as they stand"},
			lightFlag("D65"), surfaceFlag("dry"), munsellFlag(), ownFlag()),
		Action: showTubes,
	}
}

func showTubes(c *cli.Context) error {
	light, view, err := sightOf(c)
	if err != nil {
		return err
	}
	if err := checkOutput(c.String("html"), c.Bool("force"), c.String("own")); err != nil {
		return err
	}
	tubes, err := stock(c)
	if err != nil {
		return err
	}
	doc := tubelist.NewCatalogue(tubes.Tubes(), tubes.Surface(view), light)
	if c.IsSet("draw") {
		if n := c.Int("draw"); n < 1 || n > mostDraws {
			return userError("--draw %d: there is no such box; write a whole number from 1 to %d", n, mostDraws)
		}
		doc = tubelist.NewDrawnCatalogue(tubes.Tubes(), c.Int("draw"), tubes.Surface(view), light)
	}
	if name := joined(c); name != "" { // burnt sienna without quotes is one tube
		tube, err := tubes.Get(name)
		switch {
		case err != nil && c.NArg() > 1:
			return userError("tubes shows one tube at a time and %q is one too many; name one", c.Args().Get(1))
		case err != nil:
			return err
		}
		doc = doc.Only(tube.ID)
	}
	if c.Bool("munsell") {
		doc.ShowMunsell()
	}
	return show(c, nil, doc)
}
