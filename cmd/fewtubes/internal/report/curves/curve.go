// Package curves holds the document of the curve command, and its chart as SVG and PNG.
package curves

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/solver"
)

// Curve is the document of curve: the tightest tolerance that each number of
// tubes, and each price, can hold over one fixed set of targets.
type Curve struct {
	Schema string `json:"schema"`
	Title  string `json:"title"`
	shown.Sight
	Limits  []string        `json:"limits"`
	Targets []string        `json:"targets"`  // those reachable at the loosest tolerance asked
	LeftOut []string        `json:"left_out"` // the others
	Points  []CurvePoint    `json:"points"`
	Prices  []CurvePoint    `json:"prices"`
	Sure    []SurePoint     `json:"holds,omitempty"`
	Draws   int             `json:"draws,omitempty"` // of which those hold
	Tubes   []tubelist.Line `json:"tubes"`

	choice *report.Choice
}

// CurvePoint is the best a number of tubes, or a price, can do.
type CurvePoint struct {
	Tubes     int              `json:"tubes"`
	Tolerance shown.Hundredths `json:"tolerance"`
	Palette   []string         `json:"palette"`
	Price     shown.Cents      `json:"price"`
	Proof     string           `json:"proof"`
	Knee      bool             `json:"knee"`
}

const schemaCurve = "fewtubes curve 1"

// NewCurve builds the document of a curve.
func NewCurve(scene report.Scene, p *solver.Problem, curve *solver.Curve) *Curve {
	c := report.Unanswered(schemaCurve, scene, p)
	out := &Curve{
		Schema: c.Schema, Title: c.Title, Sight: c.Sight, Limits: c.Limits,
		Targets: append([]string{}, curve.Targets...), LeftOut: append([]string{}, curve.LeftOut...),
		Points: curvePoints(curve.Points), Prices: curvePoints(curve.Prices), choice: c,
	}
	for _, list := range [][]CurvePoint{out.Points, out.Prices} {
		markKnees(list)
		for _, pt := range list {
			c.Palettes = append(c.Palettes, report.Palette{Tubes: pt.Palette})
		}
	}
	out.Tubes = c.TubeLines()
	return out
}

func curvePoints(points []solver.Point) []CurvePoint {
	out := []CurvePoint{}
	for _, p := range points {
		// Rounded up: the palette does hold what is shown.
		tolerance := shown.Hundredths(math.Ceil(float64(p.Tolerance*100)-1e-6) / 100)
		out = append(out, CurvePoint{Tubes: p.Tubes, Tolerance: tolerance, Palette: p.Palette, Price: shown.Cents(p.Price), Proof: p.Proof})
	}
	return out
}

// markKnees marks where the curve turns: the step down to the point is at least
// 0.5 and twice the step down from it. Below 0.5 a step is not seen (common
// practice, no source).
func markKnees(points []CurvePoint) {
	for i := 1; i+1 < len(points); i++ {
		before := points[i-1].Tolerance - points[i].Tolerance
		after := points[i].Tolerance - points[i+1].Tolerance
		points[i].Knee = before >= 0.5 && before >= 2*after
	}
}

// Swatches are the colours of tubes on the curve.
func (c *Curve) Swatches(ids []string) []report.TubeSwatch { return c.choice.Swatches(ids) }

// Words names the knees of the curve.
func (c *Curve) Words() []string {
	var out []string
	for i, p := range c.Points {
		if p.Knee {
			next := c.Points[i+1]
			out = append(out, fmt.Sprintf("The curve turns at %s: one fewer holds ΔE00 %s, these hold %s, one more only %s.",
				shown.Counted(p.Tubes, "tube"), c.Points[i-1].Tolerance, p.Tolerance, next.Tolerance))
		}
	}
	for i, p := range c.Prices {
		if p.Knee {
			out = append(out, fmt.Sprintf("The curve turns at price %s: spending less (%s) holds ΔE00 %s, this holds %s, more (%s) only %s.",
				p.Price, c.Prices[i-1].Price, c.Prices[i-1].Tolerance, p.Tolerance, c.Prices[i+1].Price, c.Prices[i+1].Tolerance))
		}
	}
	if len(out) == 0 {
		out = append(out, "The curve turns nowhere: every tube brings about its share.")
	}
	return out
}

// Text is the curve as a table for a terminal.
func (c *Curve) Text(s terminal.Style) string {
	var b strings.Builder
	b.WriteString(s.Wrap("", 0, c.headline()))
	if len(c.LeftOut) > 0 {
		b.WriteString(s.Wrap("", 2, "Left out, beyond every allowed tube: "+strings.Join(c.LeftOut, ", ")+"."))
	}
	c.writePoints(&b, s, "By number of tubes", c.Points)
	c.writePoints(&b, s, "By price", c.Prices)
	c.writeSure(&b, s)
	b.WriteByte('\n')
	for _, w := range c.Words() {
		b.WriteString(s.Wrap("", 2, w))
	}
	return b.String()
}

func (c *Curve) headline() string {
	out := append([]string{shown.Counted(len(c.Targets), "colour"), c.SeenUnder()}, c.Limits...)
	if c.Title == "" {
		return strings.Join(out, "; ")
	}
	return c.Title + ": " + strings.Join(out, "; ")
}

func (c *Curve) writePoints(b *strings.Builder, s terminal.Style, title string, points []CurvePoint) {
	if len(points) == 0 {
		return
	}
	terminal.Heading(b, s, title+" (tubes, price, tightest ΔE00, palette)")
	price := terminal.Widest(points, func(p CurvePoint) string { return p.Price.String() })
	de := terminal.Widest(points, func(p CurvePoint) string { return p.Tolerance.String() })
	for _, p := range points {
		turn := "     "
		if p.Knee {
			turn = "turns"
		}
		lead := "  " + terminal.Row(terminal.Pad(fmt.Sprint(p.Tubes), -2), terminal.Pad(p.Price.String(), -price), terminal.Pad(p.Tolerance.String(), -de), turn) + strings.Repeat(" ", 7-len(strings.TrimRight(turn, " ")))
		b.WriteString(s.WrapAfter(lead, strings.Join(p.Palette, ", ")))
	}
}
