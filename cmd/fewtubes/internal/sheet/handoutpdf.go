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
	mixRow     = 11.0 // mm for a colour with its recipe on two lines
	lineRow    = 3.2  // for a miss in words, or for a longer recipe
	planeRow   = 6.0
	mostExtra  = 4.0 // where the page has room, rows grow by up to this
	gutter     = 6.0
	recipeSize = 8.0
	bodySize   = 8.5
)

const handoutFoot = "Left: the colour of the scene; right: the mix. * outside what screens and printers show. Judge by your own paint."

const munsellFoot = "Left: the scene; right: the mix. * outside what screens and printers show. Munsell renotation, C to D65 by Bradford."

// PDF draws the handout on one page. Where the scene has more colours than find
// room, those of the smallest areas are left out and the page says how many.
func (h *Handout) PDF(paper Paper) ([]byte, error) {
	h, p, space, err := h.fitted(paper)
	if err != nil {
		return nil, err
	}
	h.drawColumns(p, space)
	h.drawBelow(p)
	return p.finish()
}

// LeftOut are the names of the colours that find no room on the page, those of
// the smallest areas first.
func (h *Handout) LeftOut(paper Paper) ([]string, error) {
	h, _, _, err := h.fitted(paper)
	if err != nil {
		return nil, err
	}
	return h.leftOut, nil
}

// fitted begins a page and keeps what finds room on it: how much that is depends
// on the paper. space is the height left for the colours, mm.
func (h *Handout) fitted(paper Paper) (kept *Handout, p *press, space float64, err error) {
	h = h.clone()
	foot := handoutFoot
	if h.Munsell {
		foot = munsellFoot
	}
	p = newPress(paper, h.Title, foot)
	h.drawHead(p)
	below := h.belowHeight(p)
	space = paper.Height - margin - 2 - p.y - below
	if space < mixRow+planeRow {
		return nil, nil, 0, errors.New("the palette and its cautions leave no room for recipes on one page; use fewer tubes")
	}
	for h.rowsHeight() > space {
		h.keep(h.count() - 1)
	}
	return h, p, space, nil
}

func (h *Handout) drawHead(p *press) {
	p.title(h.Title)
	p.y += 1.5
	width := (p.inner() + gutter) / 3
	for i, t := range h.Tubes {
		x := margin + float64(width*float64(i%3))
		p.swatch(x, p.y, 8, 5, h.Mass[i])
		p.text(x+10, p.y+0.6, width-gutter-10, bodySize, t.Name+star(h.Mass[i]))
		if i%3 == 2 || i == len(h.Tubes)-1 {
			p.y += 6.5
		}
	}
	p.y += 2
}

func (h *Handout) drawColumns(p *press, space float64) {
	left, right := h.columns(0)
	rows := max(len(left), len(right))
	extra := min((space-h.rowsHeight())/float64(rows), mostExtra)
	left, right = h.columns(extra)
	width := float64((p.inner() - gutter) / 2)
	h.drawColumn(p, left, margin, width)
	h.drawColumn(p, right, margin+width+gutter, width)
	p.y += max(columnHeight(left), columnHeight(right)) + 1
}

func (h *Handout) drawColumn(p *press, items []item, x, width float64) {
	y := p.y
	for _, it := range items {
		if it.mix == nil {
			p.bold(x, y+0.8, width, 10, upperFirst(it.heading))
		} else {
			h.drawMix(p, it.mix, x, y, width, it.height())
		}
		y += it.height()
	}
}

func (h *Handout) drawMix(p *press, m *Mix, x, y, width, height float64) {
	const box = 9.0
	p.pair(x, y, 2*box, height-1.5, m.Target, m.Mixed)
	tx, tw := x+2*box+1.5, width-2*box-1.5
	p.noted(tx, y-0.3, tw, recipeSize, m.Name, h.note(m))
	size := recipeSize
	if p.lines(tw, size, m.Recipe) > 2 {
		size = smallest
	}
	below := p.wrapped(tx, y+3.1, tw, size, m.Recipe)
	if m.Words != "" {
		p.text(tx, below, tw, smallest, m.Words)
	}
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

func (h *Handout) belowHeight(p *press) float64 {
	order, cautions := h.below()
	height := 2*(11*pointMM*leading+1) + 2
	for _, s := range append(order, cautions...) {
		height += float64(float64(p.lines(p.inner(), bodySize, s))*bodySize*pointMM*leading) + 1
	}
	return height + bodySize*pointMM*leading + 1 // a line for what is left out
}

func (h *Handout) drawBelow(p *press) {
	switch n := len(h.leftOut); {
	case n == 1:
		p.paragraph(bodySize, "1 colour, of the smallest area, found no room on this page.")
	case n > 1:
		p.paragraph(bodySize, fmt.Sprintf("%d colours of the smallest areas found no room on this page.", n))
	}
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
}

func upperFirst(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[size:]
}
