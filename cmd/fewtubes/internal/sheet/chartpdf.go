package sheet

import (
	"fmt"
	"strings"

	"fewtubes/catalog"
	"fewtubes/gamut/film"
)

const (
	cellHeight = 9.0 // mm of a printed swatch and of the room beside it
	labelSize  = 7.5 // pt under a swatch
	nameSize   = 8.5
	headRoom   = 7.0 // mm of a heading
)

const chartFoot = "* outside what screens and printers show: printed duller than the paint. Computed colours, opaque films; judge by your own paint."

// PDF draws the chart.
func (c *Chart) PDF(paper Paper) ([]byte, error) {
	p := newPress(paper, c.Title, chartFoot)
	c.drawPalette(p)
	c.drawLadders(p)
	c.drawPairs(p)
	c.drawGreens(p)
	drawCautions(p, c.Tubes)
	return p.finish()
}

func (c *Chart) drawPalette(p *press) {
	p.title(c.Title)
	p.y++
	p.ruler()
	p.paragraph(nameSize, fmt.Sprintf("Beside each printed colour is room to paint the same mix. Numbers are parts by volume, in the order of the names. "+
		"v is the value, 0 black to 10 white. Lay the paint thick enough to hide the paper, let it dry, and look at both under the same light; the colours are computed for %s. "+
		"Start with the larger, weaker part and add the strong tinter little by little.", lightWords(c.Light)+surfaceWords(c.Surface)))
	p.heading("The tubes")
	for i := range c.Tubes {
		t := &c.Tubes[i]
		p.room(cellHeight + 2)
		p.swatch(margin, p.y, 18, cellHeight, c.Mass[i])
		p.frame(margin+18, p.y, 18, cellHeight)
		x := margin + 40
		p.bold(x, p.y+0.5, p.inner()-40, nameSize, t.Name+star(c.Mass[i]))
		p.text(x, p.y+4.5, p.inner()-40, labelSize, tubeFacts(t))
		p.y += cellHeight + 1.5
	}
	p.y += 2
}

// tubeFacts is what a painter asks of a tube, on one line.
func tubeFacts(t *catalog.Tube) string {
	facts := []string{strings.Join(t.Pigments, ", ")}
	add := func(what, value string) {
		if value != "" {
			facts = append(facts, what+value)
		}
	}
	add("", t.Opacity)
	add("dries ", t.Drying)
	add("lightfastness usually reported ", t.Lightfastness)
	add("", strings.Join(minded(t), ", "))
	return strings.Join(facts, "; ")
}

func star(s Swatch) string {
	if s.Clipped {
		return " *"
	}
	return ""
}

func (c *Chart) drawLadders(p *press) {
	if c.White == "" {
		p.paragraph(nameSize, "The palette holds no white, so there are no tint ladders.")
		return
	}
	p.room(headRoom + 2*(cellHeight+5.5))
	p.heading("Tints: let down with " + catalog.InSentence(c.White))
	for _, r := range c.Ladders {
		p.drawRow(r, r.Tubes[0].Name, "parts of paint : white")
	}
	p.y += 2
}

func (c *Chart) drawPairs(p *press) {
	if len(c.Pairs) == 0 {
		return
	}
	p.room(headRoom + 3*(cellHeight+5.5))
	p.heading("Pairs in steps")
	for _, r := range c.Pairs {
		p.drawRow(r, r.Tubes[0].Name, ": "+r.Tubes[1].Name)
	}
}

func (c *Chart) drawGreens(p *press) {
	if len(c.Greens) == 0 {
		return
	}
	p.y += 2
	p.room(headRoom + 5 + float64(float64(len(c.Greens[0].Rows))*(cellHeight+5.5)))
	p.heading("Greens")
	switch {
	case c.Red == "":
		p.paragraph(nameSize, "No tube of this palette is a red, so the greens stand as they are; a red or a burnt earth would round them off.")
	default:
		p.paragraph(nameSize, fmt.Sprintf("Each row down has more %s, which rounds a green off: duller, warmer, quieter.", catalog.InSentence(c.Red)))
	}
	for _, g := range c.Greens {
		p.room(float64(float64(len(g.Rows))*(cellHeight+5.5)) + 3)
		for i, r := range g.Rows {
			first, second := "", ""
			if i == 0 {
				first, second = r.Tubes[0].Name, ": "+r.Tubes[1].Name
			}
			if i == 1 {
				first = ": " + r.Tubes[2].Name
			}
			p.drawRow(r, first, second)
		}
		p.y += 3
	}
	if c.LeftOut > 0 {
		p.paragraph(nameSize, fmt.Sprintf("Pairs that mix to duller greens and found no room here, but stand among the pairs: %d.", c.LeftOut))
	}
}

// drawRow is a name, then printed and blank boxes side by side, recipes below.
func (p *press) drawRow(r Row, first, second string) {
	const names = 40.0
	height := cellHeight + 5.5
	p.room(height)
	p.bold(margin, p.y+0.5, names-1, p.fitting("B", names-1, nameSize, first), first)
	p.text(margin, p.y+4.5, names-1, p.fitting("", names-1, nameSize, second), second)
	pitch := (p.inner() - names) / float64(len(r.Swatches))
	half := float64((pitch - 2) / 2)
	for i, s := range r.Swatches {
		x := margin + names + float64(pitch*float64(i))
		p.swatch(x, p.y, half, cellHeight, s)
		p.frame(x+half, p.y, half, cellHeight)
		label := fmt.Sprintf("%s  v %.1f%s", s.Label(), s.Lab.L/10, star(s))
		p.text(x, p.y+cellHeight+0.6, pitch-1, labelSize, label)
	}
	p.y += height
}

// surfaceWords follow the light where the paint is not seen as it dries.
func surfaceWords(v film.View) string {
	if v == film.NoGlare {
		return ", varnished or lit so that no glare is seen"
	}
	return ""
}

// lightWords is the light in words a painter knows.
func lightWords(name string) string {
	switch name {
	case "A":
		return "lamplight (A)"
	case "D50":
		return "warm daylight (D50)"
	}
	return "daylight (" + name + ")"
}
