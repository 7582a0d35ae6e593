package main

import (
	"fewtubes/catalog"

	"github.com/urfave/cli/v2"
)

// ownFlag names the painter's own tubes.
func ownFlag() cli.Flag {
	return &cli.StringFlag{Name: "own", Usage: "the painter's own tubes, in `FILE`, cost nothing"}
}

// stock is every tube a command may use: those built in and the painter's own.
func stock(c *cli.Context) (*catalog.Catalogue, error) {
	return catalog.Builtin()
}
