package main

import (
	"errors"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// placed says where the limits stand that the solver refuses: in the scene file
// or on the command line.
func (q *question) placed(c *cli.Context, err error) error {
	var class *solver.UnknownError
	var tube *catalog.UnknownTube
	var contradiction *solver.ContradictionError
	switch {
	case errors.As(err, &class):
		return q.misnamed(c, class.Limit, class.Name, err)
	case errors.As(err, &tube):
		key, _, _ := strings.Cut(err.Error(), ": ")
		return q.misnamed(c, key, tube.ID, err)
	case errors.As(err, &contradiction):
		return &mistake{q.limitsPlace(c) + " " + strings.TrimPrefix(asMistake(err).Error(), "limits "), err}
	}
	return err
}

// misnamed puts the place of a limit in front of what is wrong with a name in
// it, instead of the limit's key alone.
func (q *question) misnamed(c *cli.Context, key, name string, err error) error {
	_, text, found := strings.Cut(asMistake(err).Error(), ": ")
	if !found {
		return err
	}
	place := q.scene.Place("limits." + key)
	if key == "palette" || slices.Contains(flagList(c, key), name) {
		place = "--" + key
	}
	return &mistake{place + ": " + text, err}
}

// limitsPlace begins a sentence about the limits together.
func (q *question) limitsPlace(c *cli.Context) string {
	if slices.ContainsFunc(limitNames, c.IsSet) {
		return q.scene.Place("") + ": its limits and those of the flags"
	}
	return q.scene.Place("limits") + ": they"
}
