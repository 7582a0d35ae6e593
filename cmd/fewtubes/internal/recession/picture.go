package recession

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// families part the hues for the picture, one line each.
var families = []struct {
	name string
	of   func(colour.Words) bool
}{
	{"greys", func(w colour.Words) bool { return w.Chroma == colour.Grey }},
	{"greens", func(w colour.Words) bool { return w.Hue.IsGreen() }},
	{"yellows and oranges", func(w colour.Words) bool {
		return w.Hue == colour.Yellow || w.Hue == colour.YellowOrange || w.Hue == colour.Orange
	}},
	{"reds", func(w colour.Words) bool {
		return w.Hue == colour.OrangeRed || w.Hue == colour.Red || w.Hue == colour.RedViolet
	}},
	{"blues and violets", func(colour.Words) bool { return true }},
}

func familyOf(c colour.Lab) int {
	w := colour.Name(c)
	for i, f := range families {
		if f.of(w) {
			return i
		}
	}
	return len(families) - 1
}

const (
	pictureWide = 760.0
	panelHigh   = 250.0
	panelLeft   = 60.0
	panelRight  = 610.0
	panelTop    = 46.0
	between     = 60.0
)

// panel is one scale of the picture over distance.
type panel struct {
	top, most, step, km float64
	name                string
	of                  func(colour.Lab) float64
}

// x goes by the root of the distance, since near planes lie close together.
func (p *panel) x(km float64) float64 {
	return panelLeft + float64(math.Sqrt(km/p.km)*(panelRight-panelLeft))
}
func (p *panel) y(v float64) float64 {
	return p.top + panelHigh - float64(min(max(v/p.most, 0), 1)*panelHigh)
}

// Picture draws value and chroma over distance as SVG: each colour a disc where
// its plane lies, joined to a ring where the law has it if it stands elsewhere,
// and one line for each family of hue, as the law carries its nearest colours off.
func (l *Law) Picture(s *scene.Scene, found []Verdict) []byte {
	farthest, strongest := 0.1, 20.0
	for i := range s.Targets {
		if _, to, ok := s.WayKM(&s.Targets[i]); ok {
			farthest = max(farthest, to)
			strongest = max(strongest, s.Targets[i].Lab.LCh().C)
		}
	}
	panels := []*panel{
		{top: panelTop, most: 10, step: 2, name: "value", of: func(c colour.Lab) float64 { return c.L / 10 }},
		{top: panelTop + panelHigh + between, most: math.Ceil(strongest/10) * 10, step: 10, name: "chroma", of: func(c colour.Lab) float64 { return c.LCh().C }},
	}
	high := panelTop + 2*panelHigh + between + 46
	var b strings.Builder
	fmt.Fprintf(&b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"%.0f\" height=\"%.0f\" viewBox=\"0 0 %[1]g %[2]g\" font-family=\"system-ui, sans-serif\" font-size=\"11\">\n", pictureWide, high)
	fmt.Fprintf(&b, "<rect width=\"%g\" height=\"%g\" fill=\"#fff\"/>\n", pictureWide, high)
	words(&b, panelLeft, 18, "start", 12, "Lines: each family of hue, carried off by the air. Rings: where the air has a colour that stands elsewhere.")
	for _, p := range panels {
		p.km = farthest * 1.05
		l.draw(&b, s, found, p)
	}
	b.WriteString("</svg>\n")
	return []byte(b.String())
}

func (l *Law) draw(b *strings.Builder, s *scene.Scene, found []Verdict, p *panel) {
	words(b, panelLeft, p.top-8, "start", 12, p.name)
	for v := 0.0; v <= p.most; v += p.step {
		stroke(b, "#ddd", 1, "", [2]float64{panelLeft, p.y(v)}, [2]float64{panelRight, p.y(v)})
		words(b, panelLeft-8, p.y(v)+4, "end", 11, shown.Digits(v, 0))
	}
	below := p.top + panelHigh + 16
	for _, plane := range scene.Planes {
		if km, ok := s.PlaneKM(plane); ok && km <= p.km {
			stroke(b, "#bbb", 1, "2 3", [2]float64{p.x(km), p.top}, [2]float64{p.x(km), p.top + panelHigh})
			words(b, p.x(km), below, "middle", 11, fmt.Sprintf("%s %s", plane, kilometres(km)))
		}
	}
	l.drawFamilies(b, s, p)
	law := map[string]colour.Lab{}
	for _, v := range found {
		law[v.Target.Name] = v.Law
	}
	var names []label
	for i := range s.Targets {
		t := &s.Targets[i]
		_, km, ok := s.WayKM(t)
		if !ok {
			continue
		}
		x, y := p.x(km), p.y(p.of(t.Lab))
		if to, wrong := law[t.Name]; wrong {
			stroke(b, "#222", 1.2, "", [2]float64{x, y}, [2]float64{x, p.y(p.of(to))})
			fmt.Fprintf(b, "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"6\" fill=\"none\" stroke=\"#222\"/>\n", x, p.y(p.of(to)))
			names = append(names, beside(x, y, t.Name))
		}
		fmt.Fprintf(b, "<circle cx=\"%.1f\" cy=\"%.1f\" r=\"5\" fill=\"%s\" stroke=\"#222\" stroke-width=\"0.7\"><title>%s</title></circle>\n", x, y, shown.Hex(t.Lab), template.HTMLEscapeString(t.Name))
	}
	apart(b, names)
}

// beside is the name of a mark, on the side where there is room.
func beside(x, y float64, name string) label {
	if x < (panelLeft+panelRight)/2 {
		return label{x + 10, y, "start", name}
	}
	return label{x - 10, y, "end", name}
}

// drawFamilies draws a line for each family, from the mean of its nearest plane.
func (l *Law) drawFamilies(b *strings.Builder, s *scene.Scene, p *panel) {
	var ends []label
	for f, family := range families {
		mean, km, ok := l.nearestMean(s, f)
		if !ok {
			continue
		}
		const steps = 48
		var line [][2]float64
		for i := range steps + 1 {
			root := math.Sqrt(km) + float64((math.Sqrt(p.km)-math.Sqrt(km))*float64(i)/steps)
			at := float64(root * root)
			line = append(line, [2]float64{p.x(at), p.y(p.of(l.view.Moved(mean, km, at)))})
		}
		stroke(b, shown.Hex(mean), 2, "", line...)
		ends = append(ends, label{panelRight + 8, line[steps][1], "start", family.name})
	}
	apart(b, ends)
}

// label is a word beside a mark.
type label struct {
	x, y   float64
	anchor string
	words  string
}

// apart writes labels one below the other where they would lie on one another.
func apart(b *strings.Builder, labels []label) {
	const line = 12.0
	slices.SortStableFunc(labels, func(a, b label) int { return portable.Compare(a.y, b.y, portable.Fine) })
	for i := range labels {
		for _, above := range labels[:i] {
			if above.x == labels[i].x && labels[i].y < above.y+line {
				labels[i].y = above.y + line
			}
		}
		words(b, labels[i].x, labels[i].y+4, labels[i].anchor, 11, labels[i].words)
	}
}

// nearestMean is the mean of a family's colours, by area and as the law has them,
// in the nearest plane that has any.
func (l *Law) nearestMean(s *scene.Scene, family int) (mean colour.Lab, km float64, ok bool) {
	for _, plane := range scene.Planes {
		at, has := s.PlaneKM(plane)
		if !has {
			continue
		}
		var sum colour.Lab
		var area float64
		for i := range s.Targets {
			t := &s.Targets[i]
			from, to, ok := s.WayKM(t)
			if !ok || t.Plane != plane || familyOf(t.Lab) != family {
				continue
			}
			c := l.lawful(t.Lab, from, to)
			w := max(t.Area, 1e-6)
			sum.L += float64(w * c.L)
			sum.A += float64(w * c.A)
			sum.B += float64(w * c.B)
			area += w
		}
		if area > 0 {
			return colour.Lab{L: sum.L / area, A: sum.A / area, B: sum.B / area}, at, true
		}
	}
	return mean, 0, false
}

func stroke(b *strings.Builder, ink string, width float64, dashes string, points ...[2]float64) {
	b.WriteString(`<path d="`)
	for i, q := range points {
		to := "L"
		if i == 0 {
			to = "M"
		}
		fmt.Fprintf(b, "%s%.1f %.1f", to, q[0], q[1])
	}
	fmt.Fprintf(b, "\" fill=\"none\" stroke=\"%s\" stroke-width=\"%g\"", ink, width)
	if dashes != "" {
		fmt.Fprintf(b, " stroke-dasharray=\"%s\"", dashes)
	}
	b.WriteString("/>\n")
}

func words(b *strings.Builder, x, y float64, anchor string, size float64, text string) {
	fmt.Fprintf(b, "<text x=\"%.1f\" y=\"%.1f\" text-anchor=\"%s\" font-size=\"%g\" fill=\"#222\">%s</text>\n", x, y, anchor, size, template.HTMLEscapeString(text))
}
