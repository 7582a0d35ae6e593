package main

import (
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
		return owntubes.Load(path, tubes)
	}
	return tubes, err
}
