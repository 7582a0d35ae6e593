package report

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"strconv"

	"fewtubes/gamut/portable"

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

// One panel of the chart.
const (
	panelWidth  = 15 * vg.Centimeter
	panelHeight = 9.5 * vg.Centimeter
	margin      = 0.4 * vg.Centimeter
)

// Chart draws the tightest tolerance against the number of tubes and, where it
// is known, against the price, side by side, in the format "svg" or "png".
func (c *Curve) Chart(format string) ([]byte, error) {
	panels := []bool{false}
	if len(c.Prices) > 0 {
		panels = append(panels, true)
	}
	canvas, err := draw.NewFormattedCanvas(vg.Length(len(panels))*panelWidth, panelHeight, format)
	if err != nil {
		return nil, err
	}
	whole := draw.New(canvas)
	for i, byPrice := range panels {
		p, err := c.panel(byPrice)
		if err != nil {
			return nil, err
		}
		left := vg.Length(float64(i) * float64(panelWidth))
		p.Draw(draw.Crop(whole, left+margin, left+panelWidth-whole.Max.X-margin, margin, -margin))
	}
	var b bytes.Buffer
	_, err = canvas.WriteTo(&b)
	return b.Bytes(), err
}

// panelSVG is one panel as a drawing of its own.
func (c *Curve) panelSVG(byPrice bool) ([]byte, error) {
	p, err := c.panel(byPrice)
	if err != nil {
		return nil, err
	}
	w, err := p.WriterTo(panelWidth, panelHeight, "svg")
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	_, err = w.WriteTo(&b)
	return b.Bytes(), err
}

func (c *Curve) panel(byPrice bool) (*plot.Plot, error) {
	p := plot.New()
	p.Y.Label.Text = "tightest tolerance, ΔE00"
	p.X.Label.Text = "tubes"
	points := c.Points
	if byPrice {
		p.X.Label.Text = "indicative price"
		points = c.Prices
	}
	p.Y.Min = 0
	p.X.Tick.Marker, p.Y.Tick.Marker = plot.TickerFunc(roundTicks), plot.TickerFunc(roundTicks)
	for _, axis := range []*plot.Axis{&p.X, &p.Y} {
		axis.Color, axis.Tick.Color, axis.Tick.Label.Color, axis.Label.TextStyle.Color = soft, soft, soft, ink
		axis.Padding = vg.Points(8)
		axis.Label.TextStyle.Font.Variant, axis.Tick.Label.Font.Variant = "Sans", "Sans"
	}
	if !byPrice {
		p.X.Tick.Marker = wholeTicks(points)
	}
	err := addCurve(p, points, byPrice)
	// No point lies on the edge of the panel, where half of it would be cut off.
	p.Y.Max += float64((p.Y.Max - p.Y.Min) / 8)
	beside := max((p.X.Max-p.X.Min)/20, 0.25)
	p.X.Min, p.X.Max = p.X.Min-beside, p.X.Max+beside
	return p, err
}

// roundTicks are about five of equal steps of 1, 2 or 5 and noughts.
func roundTicks(low, high float64) (out []plot.Tick) {
	rough := (high - low) / 5
	if !(rough > 0) {
		return nil
	}
	step := math.Pow10(portable.Decade(rough))
	for _, times := range []float64{1, 2, 5, 10} {
		if times*step >= rough {
			step *= times
			break
		}
	}
	places := max(0, -portable.Decade(step*(1+1e-9)))
	top := high - float64(0.03*(high-low)) // a label on the edge would be cut off
	for n := int(math.Ceil(low/step - 1e-9)); float64(n)*step < top; n++ {
		at := float64(n) * step
		out = append(out, plot.Tick{Value: at, Label: strconv.FormatFloat(at, 'f', places, 64)})
	}
	return out
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
	for i := range words.TextStyle {
		words.TextStyle[i].Font.Variant = "Sans"
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
