// Package drawn draws how the colours of a scene and their mixes lie: in the plane of hue
// and chroma, with what the palette reaches there, and on the ladder of values.
package drawn

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/gamut"
	"fewtubes/gamut/film"
)

// plane maps a*b* into a square drawing, +a* right and +b* up.
type plane struct{ reach float64 } // largest |a*| or |b*| shown

const (
	plotSize   = 460
	plotMargin = 26
	plotSide   = 18 // more at the left and the right, for the words there
)

func (p plane) x(a float64) float64 {
	return plotSize/2 + float64(a/p.reach*(plotSize/2-plotMargin))
}
func (p plane) y(b float64) float64 {
	return plotSize/2 - float64(b/p.reach*(plotSize/2-plotMargin))
}

// Colour is a colour of the scene and its mix.
type Colour struct {
	Name    string
	Lab     shown.Lab
	Mix     shown.Lab
	Reached bool
}

// Plot draws the a*b* plane: rings of chroma, the outline of what the paints mix, every
// colour as a circle with its number, its mix as a square joined to it, and a
// cross over what is out of reach. Once left, if any, says so it is of no use.
func Plot(colours []Colour, paints []film.Paint, sight gamut.Options, left func() bool) template.HTML {
	outline := reachOutline(paints, sight.Surface, sight.Light, sight.PaintsPerMix)
	at := plane{extent(colours)}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="chart" viewBox="%d 0 %d %d" role="img" aria-label="Hue and chroma of the colours and their mixes">`, -plotSide, plotSize+2*plotSide, plotSize)
	at.grid(&b)
	at.outline(&b, outline)
	at.words(&b)
	var marks []numbered
	for i, t := range colours {
		at.colour(&b, t)
		marks = append(marks, numbered{i + 1, at.place(t.Lab)}, numbered{0, at.place(t.Mix)})
	}
	number(&b, marks, 6, 11, left)
	b.WriteString(`</svg>`)
	return template.HTML(b.String())
}

// extent is the half width of the plot, a multiple of 10, that holds every
// colour and mix with some room; the outline may run out of it.
func extent(colours []Colour) float64 {
	far := 25.0
	for _, t := range colours {
		for _, lab := range []shown.Lab{t.Lab, t.Mix} {
			far = max(far, math.Abs(float64(lab[1])), math.Abs(float64(lab[2])))
		}
	}
	return math.Ceil((float64(far*1.1)+2)/10) * 10
}

// grid draws a ring every 20 of chroma, and the axes.
func (p plane) grid(b *strings.Builder) {
	for r := 20.0; r <= p.reach; r += 20 {
		fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="%.1f" class="hair"/>`, p.x(0), p.y(0), p.x(r)-p.x(0))
	}
	lo, hi := p.x(-p.reach), p.x(p.reach)
	fmt.Fprintf(b, `<path d="M%.1f %.1fH%.1fM%.1f %.1fV%.1f" class="hair"/>`, lo, p.y(0), hi, p.x(0), lo, hi)
}

// words are what the grid is read by; those of the axes stand outside of it, where
// no outline runs.
func (p plane) words(b *strings.Builder) {
	for r := 20.0; r <= p.reach; r += 20 {
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" class="faint" font-size="10">%.0f</text>`, p.x(0)+3, p.y(r)+11, r)
	}
	for _, end := range []struct {
		a, b, right, down float64
		anchor, word      string
	}{{1, 0, 5, 4, "start", "red"}, {-1, 0, -5, 4, "end", "green"}, {0, 1, 0, -8, "middle", "yellow"}, {0, -1, 0, 16, "middle", "blue"}} {
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="%s" class="faint">%s</text>`,
			p.x(end.a*p.reach)+end.right, p.y(end.b*p.reach)+end.down, end.anchor, end.word)
	}
}

// outline draws what the palette reaches; what runs out of the grid is covered.
func (p plane) outline(b *strings.Builder, points []point) {
	if len(points) == 0 {
		return
	}
	b.WriteString(`<path class="reach" d="`)
	for i, q := range points {
		step := "L"
		if i == 0 {
			step = "M"
		}
		fmt.Fprintf(b, "%s%.1f %.1f", step, p.x(q.a), p.y(q.b))
	}
	const near, far = plotMargin, plotSize - plotMargin
	fmt.Fprintf(b, `Z"/><path class="around" d="M%d 0H%dV%dH%dZM%d %dV%dH%dV%dZ"/>`, -plotSide, plotSize+plotSide, plotSize, -plotSide, near, near, far, far, near)
}

func (p plane) colour(b *strings.Builder, t Colour) {
	x, y := p.x(float64(t.Lab[1])), p.y(float64(t.Lab[2]))
	mx, my := p.x(float64(t.Mix[1])), p.y(float64(t.Mix[2]))
	fmt.Fprintf(b, `<path d="M%.1f %.1fL%.1f %.1f" class="link"/>`, x, y, mx, my)
	fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="6" class="target" fill="%s"><title>%s</title></circle>`, x, y, shown.Hex(t.Lab.Colour()), template.HTMLEscapeString(t.Name))
	fmt.Fprintf(b, `<rect x="%.1f" y="%.1f" width="6" height="6" class="mix" fill="%s"/>`, mx-3, my-3, shown.Hex(t.Mix.Colour()))
	if !t.Reached {
		b.WriteString(`<path d="`)
		for _, side := range [][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			fmt.Fprintf(b, "M%.1f %.1fL%.1f %.1f", x+float64(5*side[0]), y+float64(5*side[1]), x+float64(9.5*side[0]), y+float64(9.5*side[1]))
		}
		b.WriteString(`" class="cross"/>`)
	}
}

func (p plane) place(c shown.Lab) point { return point{p.x(float64(c[1])), p.y(float64(c[2]))} }
