package main

import (
	"errors"
	"slices"

	"fewtubes/catalog"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// placed says where the limits stand that the solver refuses: in the scene file
// or on the command line.
func (q *question) placed(c *cli.Context, err error) error {
	var unknown *solver.UnknownError
	var tube *catalog.UnknownTube
	var contradiction *solver.ContradictionError
	switch {
	case errors.As(err, &unknown) && errors.As(err, &tube):
		return &mistake{q.limitPlace(c, unknown) + ": " + unknown.What() + whereTubes(tube), err}
	case errors.As(err, &unknown):
		return &mistake{q.limitPlace(c, unknown) + ": " + unknown.What() + whereClasses(unknown), err}
	case errors.As(err, &contradiction):
		return &mistake{q.limitsPlace(c) + " " + contradiction.What() + giveUpOne, err}
	}
	return err
}

// limitPlace is where the limit stands that names what is not there.
func (q *question) limitPlace(c *cli.Context, u *solver.UnknownError) string {
	if u.Limit == "palette" || slices.Contains(flagList(c, u.Limit), u.Name) {
		return "--" + u.Limit
	}
	return q.scene.Place("limits." + u.Limit)
}

// limitsPlace begins a sentence about the limits together.
func (q *question) limitsPlace(c *cli.Context) string {
	if slices.ContainsFunc(limitNames, c.IsSet) {
		return q.scene.Place("") + ": its limits and those of the flags"
	}
	return q.scene.Place("limits") + ": they"
}
