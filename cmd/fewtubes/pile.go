package main

import (
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/piles"

	"github.com/urfave/cli/v2"
)

func pileCommand() *cli.Command {
	return &cli.Command{
		Name:      "pile",
		Usage:     "what a recipe looks like: value, chroma, hue and its tints",
		ArgsUsage: "PARTS:ID PARTS:ID ...",
		Flags: slices.Concat([]cli.Flag{
			&cli.StringFlag{Name: "white", Usage: "let the pile down with the white `ID`", DefaultText: "titanium-white"},
		}, tableFlags()),
		Action: pile,
	}
}

func pile(c *cli.Context) error {
	if c.NArg() == 0 {
		return userError("pile wants a recipe; write it as in fewtubes pile 3:ultramarine-blue 1:yellow-ochre")
	}
	all, sight, err := atTable(c)
	if err != nil {
		return err
	}
	amounts, err := readAmounts(all, "pile", c.Args().Slice()...)
	if err != nil {
		return err
	}
	white, err := whiteFor(c, all)
	if err != nil {
		return err
	}
	table, err := mixing.NewTable(all.Tubes(), sight)
	if err != nil {
		return err
	}
	return show(c, nil, piles.NewPileLook(table, table.Pile(amounts, white), c.Bool("munsell")))
}

// whiteFor is the white of --white or that of the catalogue; empty where it
// holds none.
func whiteFor(c *cli.Context, all *catalog.Catalogue) (string, error) {
	tubes := all.Tubes()
	if !c.IsSet("white") {
		if i := catalog.WhiteOf(tubes); i >= 0 {
			return tubes[i].ID, nil
		}
		return "", nil
	}
	tube, err := known(all, "--white", c.String("white"))
	switch {
	case err != nil:
		return "", err
	case !tube.IsWhite():
		return "", userError("--white: %s is no white; name one such as titanium-white", tube.ID)
	}
	return tube.ID, nil
}
