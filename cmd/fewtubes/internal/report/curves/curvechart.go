package curves

import (
	"fmt"
	"html/template"
	"math"
	"strconv"

	"fewtubes/gamut/portable"
)

// One panel of the chart and the room around its axes, in units of a drawing. The
// axes stand clear of the field they measure.
const (
	panelWidth, panelHeight                     = 560, 350
	panelLeft, panelRight, panelTop, panelFloor = 52, 22, 40, 56
	axisClear, tickLength                       = 8, 6
)

// Chart draws the tightest tolerance against the number of tubes and, where it
// is known, against the price, side by side, in the format "svg" or "png".
func (c *Curve) Chart(format string) ([]byte, error) {
	d := panel(c.Points, false)
	if len(c.Prices) > 0 {
		d = d.beside(panel(c.Prices, true))
	}
	if len(c.Sure) > 0 {
		d = d.beside(c.surePanel())
	}
	if format == "png" {
		return d.png()
	}
	return d.svgFile(), nil
}

// panelSVG is one panel for a page.
func panelSVG(points []CurvePoint, byPrice bool) template.HTML {
	return panel(points, byPrice).svg("Tightest tolerance held; the table below has the figures")
}

// panel is one chart: steps down from point to point, knees ringed and labelled.
// It is drawn in one ink: knees are told by shape and label.
func panel(points []CurvePoint, byPrice bool) *drawing {
	return panelOf(points, byPrice, "tightest tolerance, ΔE00")
}

// panelOf is panel with a name for what is measured upwards.
func panelOf(points []CurvePoint, byPrice bool, upwards string) *drawing {
	f := field{left: panelLeft, right: panelWidth - panelRight, top: panelTop, bottom: panelHeight - panelFloor}
	ticks, word := wholeTicks(points), "tubes"
	across := func(p CurvePoint) float64 { return float64(p.Tubes) }
	if byPrice {
		word = "indicative price"
		across = func(p CurvePoint) float64 { return float64(p.Price) / 100 }
	}
	f.span(points, across)
	if byPrice {
		ticks = roundTicks(f.x0, f.x1)
	}
	d := &drawing{width: panelWidth, height: panelHeight}
	f.axes(d, ticks, word, upwards)
	for i, p := range points {
		x, y := f.x(across(p)), f.y(float64(p.Tolerance))
		if i+1 < len(points) { // the tightest tolerance stays until the next tube or coin is there
			next, down := f.x(across(points[i+1])), f.y(float64(points[i+1].Tolerance))
			d.add(bar{x - 0.75, y - 0.75, next - x + 1.5, 1.5, dark}, bar{next - 0.75, min(y, down), 1.5, math.Abs(down - y), dark})
		}
		d.add(ring{x, y, 3.5, 0, dark})
		if p.Knee {
			d.add(ring{x, y, 8.5, 7.5, dark}, text{x + 12, y - 8, 13, "start", "turns " + p.Tolerance.String(), dark})
		}
	}
	return d
}

// field is where the points lie: from x0 to x1 and from 0 to y1.
type field struct{ left, right, top, bottom, x0, x1, y1 float64 }

// The products are rounded before the sums, so that every processor draws alike.
func (f *field) x(v float64) float64 { return f.left + float64((v-f.x0)/(f.x1-f.x0)*(f.right-f.left)) }
func (f *field) y(v float64) float64 { return f.bottom - float64(v/f.y1*(f.bottom-f.top)) }

// span leaves room around the points.
func (f *field) span(points []CurvePoint, across func(CurvePoint) float64) {
	f.x0, f.x1 = math.Inf(1), math.Inf(-1)
	for _, p := range points {
		f.x0, f.x1, f.y1 = min(f.x0, across(p)), max(f.x1, across(p)), max(f.y1, float64(p.Tolerance))
	}
	if len(points) == 0 {
		f.x0, f.x1 = 0, 1
	}
	beside := max((f.x1-f.x0)/20, 0.25)
	f.x0, f.x1, f.y1 = f.x0-beside, f.x1+beside, max(f.y1*9/8, 0.1)
}

func (f *field) axes(d *drawing, ticks []tick, word, upwards string) {
	for _, t := range roundTicks(0, f.y1) {
		y := f.y(t.at)
		d.add(bar{f.left, y - 0.5, f.right - f.left, 1, hairline},
			bar{f.left - axisClear - tickLength, y - 0.5, tickLength, 1, soft},
			text{f.left - axisClear - tickLength - 4, y + 4.5, 13, "end", t.label, soft})
	}
	floor := f.bottom + axisClear
	for _, t := range ticks {
		x := f.x(t.at)
		d.add(bar{x - 0.5, floor, 1, tickLength, soft}, text{x, floor + tickLength + 14, 13, "middle", t.label, soft})
	}
	d.add(bar{f.left - axisClear - 0.5, f.top, 1, f.bottom - f.top, soft}, bar{f.left, floor - 0.5, f.right - f.left, 1, soft},
		text{f.left - axisClear - tickLength, f.top - 18, 14, "start", upwards, dark},
		text{f.right, panelHeight - 8, 14, "end", word, dark})
}

type tick struct {
	at    float64
	label string
}

// roundTicks are about five of equal steps of 1, 2 or 5 and noughts.
func roundTicks(low, high float64) (out []tick) {
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
	for n := int(math.Ceil(low/step - 1e-9)); float64(n)*step < high; n++ {
		at := float64(n) * step
		out = append(out, tick{at, strconv.FormatFloat(at, 'f', places, 64)})
	}
	return out
}

// wholeTicks marks every number of tubes; beyond what can be read side by side, every
// second, third and so on.
func wholeTicks(points []CurvePoint) (out []tick) {
	every := 1 + len(points)/20
	for i := 0; i < len(points); i += every {
		out = append(out, tick{float64(points[i].Tubes), fmt.Sprint(points[i].Tubes)})
	}
	return out
}
