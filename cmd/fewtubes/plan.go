package main

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/atomicfile"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/tomltext"

	"github.com/urfave/cli/v2"
)

const (
	fewestToBuy = "buy"
	fewestOfAll = "all"
)

func fewestFlag() cli.Flag {
	return &cli.StringFlag{Name: "fewest", Usage: "make least the tubes to `WHAT`: buy, and of those palettes take the smallest, or all the tubes", DefaultText: "buy with a box, else all"}
}

func saveFlag() cli.Flag {
	return &cli.BoolFlag{Name: "save", Usage: "write the palette into the scene, for check, handout and pack", DisableDefaultText: true}
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

// checkSave refuses a scene that could not be written, before the work.
func (q *question) checkSave(c *cli.Context) error {
	if !c.Bool("save") {
		return nil
	}
	return outputTrouble(q.from.scene, atomicfile.Check(q.from.scene, true))
}

// save writes a palette into the scene, whose other lines stay as they are.
func (q *question) save(c *cli.Context, palette []string) error {
	path := q.from.scene
	text, err := owntubes.Text(path)
	if err != nil {
		return err
	}
	s, err := scene.Parse(path, text)
	if err != nil {
		return err
	}
	s.Palette = palette
	changed, kept := scene.Update(text, s)
	if !kept {
		return userError("%s is written in a way that --save cannot change without loss; write palette = %s above its first table yourself", path, tomltext.QuoteList(palette))
	}
	if err := outputTrouble(path, atomicfile.Replace(path, changed)); err != nil {
		return err
	}
	fmt.Fprintf(c.App.ErrWriter, "fewtubes: the palette is saved in %s: %s\n", plain.Clean(path), strings.Join(palette, ", "))
	return nil
}
