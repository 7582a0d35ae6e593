package drawn

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut/colour"
)

// The ladder's geometry in its own units: the steps stand left, the labels right.
const (
	ladderWidth = 420
	ladderTop   = 12
	stepsLeft   = 26
	stepsWidth  = 64
	labelLeft   = 128
	chipWidth   = 26
	labelPitch  = 17
)

// Ladder draws the values 0 to 10 in greys, and beside them every colour in
// its place with two greys: its own and its mix's.
func Ladder(colours []Colour) template.HTML {
	height := max(440.0, float64(labelPitch*len(colours)))
	at := func(l float64) float64 { return ladderTop + float64((100-float64(l))/100*height) }
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="chart" viewBox="0 0 %d %.0f" role="img" aria-label="Values of the colours and their mixes, 0 black to 10 white">`, ladderWidth, height+2*ladderTop)
	for v := 10; v >= 0; v-- {
		top, bottom := at(min(100, float64(float64(v)*10)+5)), at(max(0, float64(float64(v)*10)-5))
		fmt.Fprintf(&b, `<rect x="%d" y="%.1f" width="%d" height="%.1f" fill="%s"/>`, stepsLeft, top, stepsWidth, bottom-top+0.3, shown.Hex(colour.Lab{L: float64(v) * 10}))
		fmt.Fprintf(&b, `<text x="%d" y="%.1f" text-anchor="end">%d</text>`, stepsLeft-6, at(float64(v)*10)+4, v)
	}
	fmt.Fprintf(&b, `<rect x="%d" y="%d" width="%d" height="%.1f" class="lead"/>`, stepsLeft, ladderTop, stepsWidth, height)
	order := byValue(colours)
	places := spread(order, func(i int) float64 { return at(float64(colours[i].Lab[0])) }, ladderTop+4, ladderTop+height-4)
	for k, i := range order {
		rung(&b, i+1, colours[i], at(float64(colours[i].Lab[0])), places[k])
	}
	b.WriteString(`</svg>`)
	return template.HTML(b.String())
}

func rung(b *strings.Builder, no int, t Colour, y, label float64) {
	right := stepsLeft + stepsWidth
	fmt.Fprintf(b, `<path d="M%d %.1fH%dL%d %.1f" class="lead"/>`, right-10, y, right+4, labelLeft-4, label)
	for k, lab := range []shown.Lab{t.Lab, t.Mix} {
		fmt.Fprintf(b, `<rect x="%d" y="%.1f" width="%d" height="13" fill="%s"/>`, labelLeft+k*chipWidth/2, label-6.5, chipWidth/2, shown.Hex(colour.Lab{L: float64(lab[0])}))
	}
	fmt.Fprintf(b, `<text x="%d" y="%.1f">%s <tspan class="faint">%d</tspan> %s</text>`,
		labelLeft+chipWidth+6, label+4, shown.Value(float64(t.Lab[0])), no, template.HTMLEscapeString(clipped(t.Name, 28)))
}

// byValue lists the indices of colours from the lightest to the darkest.
func byValue(colours []Colour) []int {
	order := make([]int, len(colours))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		switch a, b := colours[i].Lab[0], colours[j].Lab[0]; {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	return order
}

// spread moves labels apart to labelPitch, as little as it can from the top
// down and then back up from the bottom.
func spread(order []int, want func(int) float64, top, bottom float64) []float64 {
	y := make([]float64, len(order))
	last := top - labelPitch
	for k, i := range order {
		y[k] = max(want(i), last+labelPitch)
		last = y[k]
	}
	limit := bottom
	for k := len(y) - 1; k >= 0 && y[k] > limit; k-- {
		y[k] = limit
		limit -= labelPitch
	}
	return y
}

// clipped shortens a long name for a chart.
func clipped(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
