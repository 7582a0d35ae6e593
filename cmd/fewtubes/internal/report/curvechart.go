package report

import (
	"bytes"
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// The chart is drawn in one ink: knees are told by shape and label.
var (
	ink  = color.Gray{0x1c}
	soft = color.Gray{0x66}
	rule = color.Gray{0xdc}
)

// Chart draws the tightest tolerance against the number of tubes, or against
// the price, in the format "svg" or "png".
func (c *Curve) Chart(format string, byPrice bool) ([]byte, error) {
	p := plot.New()
	p.Y.Label.Text = "tightest tolerance held, ΔE00"
	p.X.Label.Text = "tubes"
	points := c.Points
	if byPrice {
		p.X.Label.Text = "indicative price"
		points = c.Prices
	}
	p.Y.Min = 0
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Color, axis.Tick.Color, axis.Tick.Label.Color, axis.Label.TextStyle.Color = soft, soft, soft, ink
		axis.Padding = vg.Points(8)
	}
	if !byPrice {
		p.X.Tick.Marker = wholeTicks(points)
	}
	if err := addCurve(p, points, byPrice); err != nil {
		return nil, err
	}
	w, err := p.WriterTo(15*vg.Centimeter, 9.5*vg.Centimeter, format)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	_, err = w.WriteTo(&b)
	return b.Bytes(), err
}

func addCurve(p *plot.Plot, points []CurvePoint, byPrice bool) error {
	var all, knees plotter.XYs
	var labels []string
	for _, pt := range points {
		at := plotter.XY{X: float64(pt.Tubes), Y: float64(pt.Tolerance)}
		if byPrice {
			at.X = float64(pt.Price) / 100
		}
		all = append(all, at)
		if pt.Knee {
			knees = append(knees, at)
			labels = append(labels, " knee "+pt.Tolerance.String())
		}
	}
	if len(all) == 0 {
		return nil
	}
	grid := plotter.NewGrid()
	grid.Vertical.Color, grid.Horizontal.Color = nil, rule
	line, dots, err := plotter.NewLinePoints(all)
	if err != nil {
		return err
	}
	// The tightest tolerance stays until the next tube or coin is there.
	line.StepStyle = plotter.PostStep
	line.Color, line.Width = ink, vg.Points(1.2)
	dots.Shape, dots.Radius, dots.Color = draw.CircleGlyph{}, vg.Points(2.6), ink
	p.Add(grid, line, dots)
	if len(knees) == 0 {
		return nil
	}
	marks, err := plotter.NewScatter(knees)
	if err != nil {
		return err
	}
	marks.Shape, marks.Radius, marks.Color = draw.RingGlyph{}, vg.Points(6), ink
	words, err := plotter.NewLabels(plotter.XYLabels{XYs: knees, Labels: labels})
	if err != nil {
		return err
	}
	words.Offset = vg.Point{X: vg.Points(6), Y: vg.Points(6)}
	p.Add(marks, words)
	return nil
}

// wholeTicks marks every whole number of tubes.
func wholeTicks(points []CurvePoint) plot.ConstantTicks {
	var out plot.ConstantTicks
	for _, p := range points {
		out = append(out, plot.Tick{Value: float64(p.Tubes), Label: fmt.Sprint(p.Tubes)})
	}
	return out
}
