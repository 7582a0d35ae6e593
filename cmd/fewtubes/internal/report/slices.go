package report

import (
	"context"
	"fmt"
	"html/template"
	"math"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Slices of the reach of a palette: L*, how far a colour may lie from a slice
// to be shown in it, and in how many directions the edge is looked for.
var sliceValues = []float64{30, 50, 70}

const (
	sliceHalf       = 10.0
	sliceDirections = 36
)

// AddSlices draws what the best palette mixes at three values, beside the
// outline over all values. It asks the search some hundred times and gives up
// with the context's error.
func (c *Choice) AddSlices(ctx context.Context) error {
	if len(c.Palettes) == 0 {
		return nil
	}
	best := &c.Palettes[0]
	var paints []film.Paint
	for _, id := range best.Tubes {
		paints = append(paints, c.tube(id).Paint)
	}
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: c.problem.Surface, Light: c.problem.Light, PaintsPerMix: c.PaintsPerMix})
	if err != nil {
		return err
	}
	edges := make([][]colour.Lab, len(sliceValues))
	at := plane{extent(best.Targets)}
	for i, value := range sliceValues {
		if err := ctx.Err(); err != nil {
			return err
		}
		edges[i] = m.OutlineAt(set.Full(m.Len()), value, sliceDirections)
	}
	c.slices = nil
	for i, value := range sliceValues {
		c.slices = append(c.slices, slice{shown.Value(value), at.slice(value, edges[i], best.Targets), sliceWords(edges[i])})
	}
	return nil
}

// Slices are the drawings AddSlices made.
func (c *Choice) Slices() []slice { return c.slices }

// slice is the reach at one value.
type slice struct {
	Value string // 0 black to 10 white
	Plot  template.HTML
	Words string
}

// sliceWords says where a slice reaches farthest.
func sliceWords(edge []colour.Lab) string {
	if len(edge) == 0 {
		return "nothing this palette mixes has this value"
	}
	far := edge[0]
	for _, c := range edge {
		if portable.Hypot(c.A, c.B) > portable.Hypot(far.A, far.B) {
			far = c
		}
	}
	return fmt.Sprintf("farthest: %s, chroma %.0f", colour.Name(far), portable.Hypot(far.A, far.B))
}

func (p plane) slice(value float64, edge []colour.Lab, targets []Target) template.HTML {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="chart" viewBox="0 0 %[1]d %[1]d" role="img" aria-label="Reach at value %[2]s">`, plotSize, shown.Value(value))
	p.grid(&b)
	points := make([]point, len(edge))
	for i, c := range edge {
		points[i] = point{c.A, c.B}
	}
	p.outline(&b, points)
	var marks []numbered
	for i, t := range targets {
		if math.Abs(float64(t.Lab[0])-value) > sliceHalf {
			continue
		}
		at := p.place(t.Lab)
		marks = append(marks, numbered{i + 1, at})
		fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="12" class="target" fill="%s"><title>%s</title></circle>`, at.a, at.b, shown.Hex(t.Lab.Colour()), template.HTMLEscapeString(t.Name))
	}
	number(&b, marks, 12, 32, nil)
	b.WriteString(`</svg>`)
	return template.HTML(b.String())
}
