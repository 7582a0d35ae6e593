package main

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

const (
	fewestToBuy = "buy"
	fewestOfAll = "all"
)

func fewestFlag() cli.Flag {
	return &cli.StringFlag{Name: "fewest", Usage: "make least the tubes to `WHAT`: buy, and of those palettes take the smallest, or all the tubes", DefaultText: "buy with a box, else all"}
}

// count says what to make least: with a box, the tubes to buy; so, too, where a tube
// of the palette saved in the scene is missing, the rest of which then counts as
// owned.
func (q *question) count(c *cli.Context) error {
	l := &q.problem.Limits
	var saved []string
	for _, name := range q.scene.Palette {
		if t, err := q.stock.Get(name); err == nil {
			saved = append(saved, t.ID)
		}
	}
	left := without(saved, l.Never)
	missing := len(left) < len(saved)
	if missing {
		lost := without(saved, left)
		fmt.Fprintf(c.App.ErrWriter, "fewtubes: planned again without %s; the rest of the saved palette counts as owned\n", strings.Join(lost, ", "))
		l.Own = once(append(slices.Clip(l.Own), left...))
	}
	switch c.String("fewest") {
	case "":
		l.FewestToBuy = kitOf(c).box || missing
	case fewestToBuy:
		l.FewestToBuy = true
	case fewestOfAll:
	default:
		return userError("--fewest %s is not known; write --fewest buy or --fewest all", c.String("fewest"))
	}
	q.words.Limits = report.LimitWords(l)
	return nil
}

// fewestInAll is the best palette of fewest tubes, whatever is to buy, where that is
// smaller than those of an answer; else nil.
func (q *question) fewestInAll(c *cli.Context, session *solver.Session, a *solver.Answer) (*solver.Palette, error) {
	if a.ToBuy == nil || len(a.Missed) > 0 {
		return nil, nil
	}
	limits := q.problem.Limits
	limits.FewestToBuy = false
	all, err := session.Choose(c.Context, limits, q.problem.Prefer, nil)
	if err != nil || all.Minimum.Tubes >= a.Minimum.Tubes {
		return nil, err
	}
	return &all.Palettes[0], nil
}
