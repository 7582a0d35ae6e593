package report

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"fewtubes/gamut/film"
)

// plane maps a*b* into a square drawing, +a* right and +b* up.
type plane struct{ reach float64 } // largest |a*| or |b*| shown

const (
	plotSize   = 460
	plotMargin = 26
)

func (p plane) x(a float64) float64 {
	return plotSize/2 + a/p.reach*(plotSize/2-plotMargin)
}
func (p plane) y(b float64) float64 {
	return plotSize/2 - b/p.reach*(plotSize/2-plotMargin)
}

// plot draws the a*b* plane: rings of chroma, the outline of the palette, every
// target as a circle with its number, its mix as a square joined to it, and a
// cross over what is out of reach.
func (c *Choice) plot(p *Palette) template.HTML {
	var paints []film.Paint
	for _, id := range p.Tubes {
		paints = append(paints, c.tube(id).Paint)
	}
	outline := reachOutline(paints, c.problem.Surface, c.problem.Light, c.PaintsPerMix)
	at := plane{extent(outline, p.Targets)}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="chart" viewBox="0 0 %[1]d %[1]d" role="img" aria-label="Hue and chroma of the colours and their mixes">`, plotSize)
	at.rings(&b)
	at.outline(&b, outline, "reach")
	for _, t := range p.Targets {
		at.target(&b, t)
	}
	at.numbers(&b, p.Targets)
	b.WriteString(`</svg>`)
	return template.HTML(b.String())
}

// extent is the half width of the plot, a multiple of 10.
func extent(outline []point, targets []Target) float64 {
	far := 30.0
	for _, p := range outline {
		far = max(far, math.Abs(p.a), math.Abs(p.b))
	}
	for _, t := range targets {
		for _, lab := range []Lab{t.Lab, t.MixLab} {
			far = max(far, math.Abs(float64(lab[1])), math.Abs(float64(lab[2])))
		}
	}
	return math.Ceil((far+3)/10) * 10
}

func (p plane) rings(b *strings.Builder) {
	for r := 20.0; r <= p.reach; r += 20 {
		fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="%.1f" class="hair"/>`, p.x(0), p.y(0), p.x(r)-p.x(0))
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" class="faint" font-size="10">%.0f</text>`, p.x(0)+3, p.y(r)+11, r)
	}
	lo, hi := p.x(-p.reach), p.x(p.reach)
	fmt.Fprintf(b, `<path d="M%.1f %.1fH%.1fM%.1f %.1fV%.1f" class="hair"/>`, lo, p.y(0), hi, p.x(0), lo, hi)
	for _, end := range []struct {
		a, b   float64
		anchor string
		word   string
	}{{1, 0, "end", "red"}, {-1, 0, "start", "green"}, {0, 1, "middle", "yellow"}, {0, -1, "middle", "blue"}} {
		x, y := p.x(end.a*p.reach), p.y(end.b*p.reach)
		switch {
		case end.b > 0:
			y -= 8
		case end.b < 0:
			y += 16
		default:
			y -= 6
		}
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="%s" class="faint">%s</text>`, x, y, end.anchor, end.word)
	}
}

func (p plane) outline(b *strings.Builder, points []point, class string) {
	if len(points) == 0 {
		return
	}
	fmt.Fprintf(b, `<path class="%s" d="`, class)
	for i, q := range points {
		fmt.Fprintf(b, "%s%.1f %.1f", map[bool]string{true: "M", false: "L"}[i == 0], p.x(q.a), p.y(q.b))
	}
	b.WriteString(`Z"/>`)
}

func (p plane) target(b *strings.Builder, t Target) {
	x, y := p.x(float64(t.Lab[1])), p.y(float64(t.Lab[2]))
	mx, my := p.x(float64(t.MixLab[1])), p.y(float64(t.MixLab[2]))
	fmt.Fprintf(b, `<path d="M%.1f %.1fL%.1f %.1f" class="cross" stroke-width="1"/>`, x, y, mx, my)
	fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="6" class="target" fill="%s"><title>%s</title></circle>`, x, y, hex(t.Lab.Colour()), template.HTMLEscapeString(t.Name))
	fmt.Fprintf(b, `<rect x="%.1f" y="%.1f" width="6" height="6" class="mix" fill="%s"/>`, mx-3, my-3, hex(t.MixLab.Colour()))
	if !t.Reached {
		const arm = 9
		fmt.Fprintf(b, `<path d="M%.1f %.1fl%d %dm0 -%[3]dl-%[3]d %[3]d" class="cross"/>`, x-arm, y-arm, 2*arm, 2*arm)
	}
}

// numbers writes each target's number beside it, on the first of eight sides
// that is not taken by another mark or number.
func (p plane) numbers(b *strings.Builder, targets []Target) {
	var taken []point
	for _, t := range targets {
		taken = append(taken, point{p.x(float64(t.Lab[1])), p.y(float64(t.Lab[2]))})
	}
	for i, t := range targets {
		best, room := point{}, -1.0
		for k := range 8 {
			sin, cos := math.Sincos(float64(k)*math.Pi/4 - math.Pi/4)
			q := point{p.x(float64(t.Lab[1])) + 14*cos, p.y(float64(t.Lab[2])) + 13*sin}
			if r := nearestTo(q, taken); r > room+0.5 {
				best, room = q, r
			}
			if room > 12.5 {
				break
			}
		}
		taken = append(taken, best)
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle" font-size="11">%d</text>`, best.a, best.b+4, i+1)
	}
}

func nearestTo(q point, all []point) float64 {
	near := math.Inf(1)
	for _, p := range all {
		near = min(near, math.Hypot(p.a-q.a, p.b-q.b))
	}
	return near
}
