package curves

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/solver"
)

// SurePoint is in how many plausible boxes the best palette of a number of tubes
// reaches every colour that all allowed tubes reach as they stand.
type SurePoint struct {
	Tubes   int         `json:"tubes"`
	Holds   int         `json:"holds"`
	AtMost  int         `json:"at_most"` // no palette of as many tubes holds in more
	Palette []string    `json:"palette"`
	Price   shown.Cents `json:"price"`

	draws int
}

// AddSure adds the curve of boxes.
func (c *Curve) AddSure(points []solver.SurePoint, draws int) {
	if len(points) == 0 {
		return
	}
	c.Draws = draws
	for _, p := range points {
		c.Sure = append(c.Sure, SurePoint{p.Tubes, p.Holds, p.AtMost, p.Palette, shown.Cents(p.Price), draws})
		c.choice.Palettes = append(c.choice.Palettes, report.Palette{Tubes: p.Palette})
	}
	c.Tubes = c.choice.TubeLines()
}

func (c *Curve) writeSure(b *strings.Builder, s terminal.Style) {
	if len(c.Sure) == 0 {
		return
	}
	terminal.Heading(b, s, fmt.Sprintf("By number of tubes, in the tubes of other makers (tubes, price, holds in so many of %d plausible boxes, palette)", c.Draws))
	price := terminal.Widest(c.Sure, func(p SurePoint) string { return p.Price.String() })
	holds := terminal.Widest(c.Sure, SurePoint.words)
	for _, p := range c.Sure {
		lead := "  " + terminal.Row(terminal.Pad(fmt.Sprint(p.Tubes), -2), terminal.Pad(p.Price.String(), -price), terminal.Pad(p.words(), holds)) + "  "
		b.WriteString(s.WrapAfter(lead, strings.Join(p.Palette, ", ")))
	}
}

// words are the boxes, and how many it could be where that is not settled.
func (p SurePoint) words() string {
	switch {
	case p.AtMost > p.Holds && p.AtMost == p.draws:
		return fmt.Sprintf("%d or more", p.Holds)
	case p.AtMost > p.Holds:
		return fmt.Sprintf("%d (at most %d)", p.Holds, p.AtMost)
	}
	return fmt.Sprint(p.Holds)
}

// surePanel draws the shares, in per cent, beside the tolerances.
func (c *Curve) surePanel() *drawing {
	points := make([]CurvePoint, len(c.Sure))
	for i, p := range c.Sure {
		points[i] = CurvePoint{Tubes: p.Tubes, Tolerance: shown.Hundredths(100 * float64(p.Holds) / float64(c.Draws))}
	}
	return panelOf(points, false, "boxes in which the best holds, %")
}
