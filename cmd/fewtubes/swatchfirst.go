package main

import (
	"fmt"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/owntubes"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/solver"

	"github.com/urfave/cli/v2"
)

// steer adds to an answer where the recipes of a palette land in the tubes of other
// makers, how to steer them, and what to swatch first.
func (q *question) steer(c *cli.Context, doc *report.Choice, s *solver.Session, p *solver.Palette) (err error) {
	if err := doc.Steer(c.Context, s, c.Int("draws")); err != nil {
		return err
	}
	doc.SwatchFirst, err = q.swatchFirst(c, s, p)
	return err
}

// swatchFirst is what chart --learn would print first for a palette and the scene, read by
// a chip; nil where there is nothing to learn.
func (q *question) swatchFirst(c *cli.Context, s *solver.Session, p *solver.Palette) (*report.SwatchFirst, error) {
	tubes, err := tubesOf(q.stock, "", p.Tubes)
	if err != nil {
		return nil, err
	}
	asked, err := sceneMixtures(&q.scene, tubes, q.stock)
	if err != nil {
		return nil, err
	}
	record, err := lessonOf(c, p.Tubes)
	if err != nil {
		return nil, err
	}
	trials, told, _, err := telling(c.Context, tubes, record, asked, readings.Chip.Noise(), 1)
	if err != nil || len(told) == 0 {
		return nil, err
	}
	first := told[0].Mixture
	recipe := trials.words(first)
	f := owntubes.New("")
	f.Swatches = []owntubes.Swatch{{Recipe: recipe, Seen: labText(trials.colour(first, q.stock)), By: string(readings.Chip)}}
	for _, t := range tubes {
		f.Tubes = append(f.Tubes, owntubes.Tube{Like: t.ID})
	}
	lesson, err := f.Teach(q.stock)
	if err != nil {
		return nil, err
	}
	holds, err := s.ShareKnown(c.Context, p, lesson.After.Tubes(), c.Int("draws"))
	return &report.SwatchFirst{Recipe: recipe, Words: trials.inWords(first), Left: told[0].Left, Holds: holds}, err
}

// inWords are the parts of mixture i as a sentence names them.
func (m *mixtures) inWords(i int) string {
	var names []string
	for k, a := range m.list[i].Amounts {
		if a > 0 {
			names = append(names, fmt.Sprintf("%g %s", a, catalog.InSentence(m.tubes[k].Name)))
		}
	}
	return strings.Join(names, " + ")
}
