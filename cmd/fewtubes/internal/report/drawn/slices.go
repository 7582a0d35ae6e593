package drawn

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

// Slice is the reach at one value.
type Slice struct {
	Value string // 0 black to 10 white
	Plot  template.HTML
	Words string
}

// Slices draw what paints mix at three values, to the scale of Plot. It asks the
// search some hundred times and gives up with the context's error.
func Slices(ctx context.Context, colours []Colour, paints []film.Paint, sight gamut.Options) (out []Slice, err error) {
	m, err := gamut.NewMixer(paints, sight)
	if err != nil {
		return nil, err
	}
	at := plane{extent(colours)}
	for _, value := range sliceValues {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		edge := m.OutlineAt(set.Full(m.Len()), value, sliceDirections)
		out = append(out, Slice{shown.Value(value), at.slice(value, edge, colours), sliceWords(edge)})
	}
	return out, nil
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

func (p plane) slice(value float64, edge []colour.Lab, colours []Colour) template.HTML {
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="chart" viewBox="0 0 %[1]d %[1]d" role="img" aria-label="Reach at value %[2]s">`, plotSize, shown.Value(value))
	p.grid(&b)
	points := make([]point, len(edge))
	for i, c := range edge {
		points[i] = point{c.A, c.B}
	}
	p.outline(&b, points)
	var marks []numbered
	for i, t := range colours {
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
