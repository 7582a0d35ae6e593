package main

import (
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut/recipe"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

const plainRecipes, exactRecipes = "plain", "exact"

// partsFlags say how recipes are made, for one colour or many.
func partsFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "recipes", Value: plainRecipes, Usage: "print the plainest recipes that serve, or the nearest in parts: `KIND` is plain or exact"},
		&cli.IntFlag{Name: "parts", Usage: "at most `N` parts in a recipe", DefaultText: "12, or 20 with --recipes exact"},
	}
}

// handFlags are partsFlags with the piles that serve a whole palette.
func handFlags() []cli.Flag {
	return append(partsFlags(),
		&cli.IntFlag{Name: "prepared", Value: recipe.MostPrepared, Usage: "let down at most `N` strong paints once for the whole palette, 0 to 3"})
}

// mostPartsAsked keeps recipes to what can be measured on a palette.
const mostPartsAsked = 100

// exactTotal is the most parts of the nearest recipes where no limit is given.
const exactTotal = 20

// measures reads handFlags or partsFlags where a command has them.
func measures(c *cli.Context) (hand.Measures, error) {
	m := hand.Usual()
	switch kind := c.String("recipes"); kind {
	case plainRecipes, "":
	case exactRecipes:
		m.Exact, m.Parts = true, exactTotal
	default:
		return m, userError("--recipes %s is no kind of recipe; write plain or exact", kind)
	}
	if c.IsSet("parts") {
		if m.Parts = c.Int("parts"); m.Parts < 1 || m.Parts > mostPartsAsked {
			return m, userError("--parts %d is no recipe; write 1 to %d", m.Parts, mostPartsAsked)
		}
	}
	if c.IsSet("prepared") {
		if m.Prepared = c.Int("prepared"); m.Prepared < 0 || m.Prepared > recipe.MostPrepared {
			return m, userError("--prepared %d is more or less than a palette holds; write 0 to %d", m.Prepared, recipe.MostPrepared)
		}
	}
	return m, nil
}

// handLimit refuses, where only what a hand mixes counts, what goes with other mixes,
// and lets a paint be let down where piles are asked for.
func handLimit(c *cli.Context, p *solver.Problem, m hand.Measures) error {
	if p.ByHand == solver.Freely {
		return nil
	}
	for _, other := range []string{"certify", "certificate", "base", "bases"} {
		if c.IsSet(other) {
			return userError("--%s is about mixes that --by-hand does not count; give one of them", other)
		}
	}
	switch {
	case c.Command.Name == "curve":
		return userError("curve tells how near free mixes come, which --by-hand does not count; leave it out, in the scene too")
	case m.Exact:
		return userError("--recipes exact measures freely, which --by-hand does not count; give one of them")
	case m.Parts > recipe.DefaultTotal:
		return userError("--parts %d is more than --by-hand counts out; write 1 to %d", m.Parts, recipe.DefaultTotal)
	case c.IsSet("prepared") && m.Prepared > 0:
		p.ByHand = solver.LetDown
	}
	return nil
}
