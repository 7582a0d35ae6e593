package main

import (
	"math"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/gamut/recipe"

	"github.com/urfave/cli/v2"
)

// baseFlags make colours from bases.
func baseFlags() []cli.Flag {
	return []cli.Flag{
		baseFlag(),
		&cli.BoolFlag{Name: "bases", Usage: "propose up to three bases", DisableDefaultText: true},
	}
}

func baseFlag() cli.Flag {
	return &cli.StringSliceFlag{Name: "base", Usage: "vary a base, `PARTS:ID,PARTS:ID,...`, wherever that serves; may be given again"}
}

// mostInBase are the parts of a base together.
const mostInBase = 20

// readBases reads baseFlags into measures.
func readBases(c *cli.Context, all *catalog.Catalogue, m *hand.Measures) error {
	given := c.StringSlice("base")
	switch {
	case len(given) == 0 && !c.Bool("bases"):
		return nil
	case m.Exact:
		return userError("--base and --bases go with plain recipes; leave --recipes exact out")
	case len(given) > 0 && c.Bool("bases"):
		return userError("--base names bases and --bases proposes them; leave one of them out")
	case len(given) > recipe.MostBases:
		return userError("--base is given %d times; a palette has room for %d", len(given), recipe.MostBases)
	case len(given) == 0:
		m.Propose = recipe.MostBases
		return nil
	}
	for _, text := range given {
		amounts, err := readAmounts(all, "--base", text)
		if err != nil {
			return err
		}
		var base hand.BaseOf
		total := 0.0
		for _, a := range amounts {
			if total += a.Parts; a.Parts != math.Trunc(a.Parts) || total > mostInBase {
				return userError("--base %s: a base is made of whole parts, at most %d together", text, mostInBase)
			}
			base = append(base, hand.BasePart{Tube: a.ID, Parts: int(a.Parts)})
		}
		if len(base) < 2 {
			return userError("--base %s is a tube and no base; write two paints or more, as in 3:yellow-ochre,1:ultramarine-blue", text)
		}
		m.Bases = append(m.Bases, base)
	}
	return nil
}

// baseTubes are the tubes of the bases given.
func baseTubes(m *hand.Measures) (out []string) {
	for _, b := range m.Bases {
		for _, p := range b {
			if !slices.Contains(out, p.Tube) {
				out = append(out, p.Tube)
			}
		}
	}
	return out
}

// inPalette refuses bases of other tubes.
func inPalette(m *hand.Measures, ids []string) error {
	for _, id := range baseTubes(m) {
		if !slices.Contains(ids, id) {
			return userError("--base: %s is not in the palette; add it to --palette", id)
		}
	}
	return nil
}

// keep asks for palettes that hold these tubes.
func (q *question) keep(ids []string) {
	for _, id := range ids {
		if !slices.Contains(q.problem.Limits.Keep, id) {
			q.problem.Limits.Keep = append(slices.Clip(q.problem.Limits.Keep), id)
		}
	}
	q.words.Limits = report.LimitWords(&q.problem.Limits)
}
