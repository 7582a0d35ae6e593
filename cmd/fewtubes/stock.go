package main

import (
	"fmt"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"

	"github.com/urfave/cli/v2"
)

// ownFlag names the painter's own tubes.
func ownFlag() cli.Flag {
	return &cli.StringFlag{Name: "own", Usage: "the painter's own tubes, in `FILE`, cost nothing"}
}

// stock is every tube a command may use: those built in, with the painter's own
// beside them or instead.
func stock(c *cli.Context) (*catalog.Catalogue, error) {
	tubes, err := catalog.Builtin()
	if path := c.String("own"); err == nil && path != "" {
		var leftOut []error
		tubes, leftOut, err = owntubes.Load(path, tubes)
		tellLeftOut(c, leftOut)
	}
	return tubes, err
}

// tellLeftOut says what of a file was set aside, and why.
func tellLeftOut(c *cli.Context, why []error) {
	const most = 10
	for i, err := range why {
		if i == most {
			fmt.Fprintf(c.App.ErrWriter, "fewtubes: left out: %d more\n", len(why)-most)
			return
		}
		fmt.Fprintf(c.App.ErrWriter, "fewtubes: left out: %s\n", oneLine(err.Error()))
	}
}
