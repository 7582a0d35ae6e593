package sheet

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"fewtubes/catalog"
)

const (
	gutter   = 6.0
	bodySize = 8.5
)

// thumbHeights of pictures, mm, the first that leaves room for the rest.
var thumbHeights = []float64{58, 44, 30, 20}

const planHigh = 40.0 // mm of a picture in few values, at most

const handoutFoot = "* outside what screens and printers show. Judge by your own paint."

const munsellFoot = "* outside what screens and printers show. Munsell renotation, C to D65 by Bradford. Judge by your own paint."

// errFull is for palettes whose plan fills more than a page.
var errFull = errors.New("the palette and its cautions leave no room for the plan on one page; use fewer tubes")

// PDF draws the handout on two pages: the plan, with the scene, its values, the
// palette and the order of work, and the practice, with the recipes and room to
// paint each. Where the scene has more colours than find room, those of the
// smallest areas are left out and the page names them.
func (h *Handout) PDF(paper Paper) ([]byte, error) {
	p := h.begin(paper)
	if err := h.drawPlan(p, h.thumbHeight(paper)); err != nil {
		return nil, err
	}
	if p.y > p.bottom() {
		return nil, errFull
	}
	kept, size := h.fitted(p)
	p.newPage()
	kept.drawPractice(p, size)
	return p.finish()
}

// LeftOut are the names of the colours that find no room on the page, those of
// the smallest areas first.
func (h *Handout) LeftOut(paper Paper) ([]string, error) {
	kept, _ := h.fitted(h.begin(paper))
	return kept.leftOut, nil
}

func (h *Handout) begin(paper Paper) *press {
	foot := handoutFoot
	if h.Munsell {
		foot = munsellFoot
	}
	return newPress(paper, h.Title, foot)
}

// bottom is where the page ends, above its foot.
func (p *press) bottom() float64 { return p.paper.Height - margin - 2 }

// thumbHeight is the largest height of the pictures that leaves room for the rest
// of the plan.
func (h *Handout) thumbHeight(paper Paper) float64 {
	for _, height := range thumbHeights {
		trial := h.begin(paper)
		if err := h.drawPlan(trial, height); err == nil && trial.y <= trial.bottom() {
			return height
		}
	}
	return thumbHeights[len(thumbHeights)-1]
}

func (h *Handout) drawPlan(p *press, pictures float64) error {
	p.title(h.Title)
	p.y += 1.5
	if err := p.thumbnails(h.Pictures, pictures); err != nil {
		return err
	}
	if err := h.drawValues(p); err != nil {
		return err
	}
	h.drawPalette(p)
	order, cautions := h.below()
	p.heading("Order of work")
	for _, s := range order {
		p.paragraph(bodySize, s)
	}
	p.y++
	p.heading("Cautions")
	for _, s := range cautions {
		p.paragraph(bodySize, s)
	}
	return nil
}

// drawValues puts the ways to part the scene into few values side by side.
func (h *Handout) drawValues(p *press) error {
	if len(h.Plans) == 0 {
		return nil
	}
	p.heading("Values first: choose a plan and paint its steps under it")
	width := float64((p.inner() - 2*gutter) / 3)
	below := p.y
	for i := range h.Plans {
		y, err := p.plan(margin+float64(float64(i)*(width+gutter)), p.y, width, planHigh, h.Values, &h.Plans[i])
		if err != nil {
			return err
		}
		below = max(below, y)
	}
	p.y = below + 1
	return nil
}

func (h *Handout) drawPalette(p *press) {
	p.heading("The palette")
	width := (p.inner() + gutter) / 3
	for i, t := range h.Tubes {
		x := margin + float64(width*float64(i%3))
		p.swatch(x, p.y, 8, 5, h.Mass[i])
		p.text(x+10, p.y+0.6, width-gutter-10, bodySize, t.Name+star(h.Mass[i]))
		if i%3 == 2 || i == len(h.Tubes)-1 {
			p.y += 6.5
		}
	}
	p.y++
}

// below is what stands under the recipes: the order of work and the cautions.
func (h *Handout) below() (order, cautions []string) {
	for i, s := range h.Order {
		order = append(order, fmt.Sprintf("%d. %s", i+1, s))
	}
	var hazards []string
	for i := range h.Tubes {
		if mind := minded(&h.Tubes[i]); len(mind) > 0 {
			hazards = append(hazards, catalog.InSentence(h.Tubes[i].Name)+" "+strings.Join(mind, ", "))
		}
	}
	text := safety
	if len(hazards) > 0 {
		text = upperFirst(strings.Join(hazards, "; ")) + ". " + safety
	}
	return order, []string{text}
}

func upperFirst(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}
