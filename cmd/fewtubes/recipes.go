package main

import (
	"slices"

	"fewtubes/catalog"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// recipeFlags go with every command that works from the recipes of a scene.
func recipeFlags() []cli.Flag {
	return slices.Concat(limitFlags(), boxFlags(), []cli.Flag{
		&cli.StringSliceFlag{Name: "palette", Usage: "mix from the tubes in `LIST` instead of the smallest palette"},
		ownFlag(),
	})
}

// recipes mixes a scene: from the tubes of --palette, all of them, or those saved in
// the scene where no flag limits the choice, or else from the best of the smallest
// palettes.
func recipes(c *cli.Context) (*question, *solver.Palette, error) {
	q, err := ask(c)
	if err != nil {
		return nil, nil, err
	}
	if err := readBases(c, q.stock, &q.words.Measures); err != nil {
		return nil, nil, err
	}
	ids, where := flagList(c, "palette"), "--palette"
	if len(ids) == 0 && !slices.ContainsFunc(limitNames, c.IsSet) {
		ids, where = q.scene.Palette, q.scene.Place("palette")
	}
	if len(ids) > 0 {
		if err := q.only(where, ids); err != nil {
			return nil, nil, err
		}
		if err := inPalette(&q.words.Measures, q.problem.Limits.Keep); err != nil {
			return nil, nil, err
		}
	} else if err := q.count(c); err != nil {
		return nil, nil, err
	}
	q.keep(baseTubes(&q.words.Measures))
	q.problem.MostPalettes = 1
	done := working(c.App.ErrWriter, "mixing")
	a, err := solver.Choose(c.Context, q.problem, nil)
	done()
	if err != nil {
		return nil, nil, q.placed(c, err)
	}
	if len(a.Palettes) == 0 {
		return nil, nil, userError("no tube is allowed under these limits; allow one or name a --palette")
	}
	return q, &a.Palettes[0], nil
}

// only leaves these tubes to mix from, all of them, whatever the limits.
func (q *question) only(where string, names []string) error {
	ids, err := idsNamed(q.stock, where, names)
	if err != nil {
		return err
	}
	q.problem.Tubes = slices.DeleteFunc(q.problem.Tubes, func(t catalog.Tube) bool { return !slices.Contains(ids, t.ID) })
	q.problem.Limits = solver.Limits{Keep: ids}
	return nil
}
