package sheet

import (
	"fmt"
	"strings"
)

// item is a line of the practice's two columns: a heading or a mix.
type item struct {
	heading string
	mix     *Mix
}

const (
	practiceBox = 9.0 // mm, each of the colours, the mix and the room to paint it
	leastRow    = 8.2 // mm of a mix
	mostExtra   = 5.0 // mm that a row grows by at most where the page has room
	headingRow  = 5.0 // mm
	textIndent  = 3*practiceBox + 1.5
)

// practiceTypes are the sizes of type that are tried, pt.
var practiceTypes = []float64{8, 7.5, 7}

const practiceWords = "Left the colour of the scene, then the mix, then room for yours. The numbers are those of the marks in the picture. Parts are by volume; print at actual size."

// fitted is the handout with the colours that find room on a page, in the largest
// type in which all of them do, or else in the smallest.
func (h *Handout) fitted(p *press) (kept *Handout, size float64) {
	kept = h.clone()
	for _, size = range practiceTypes {
		kept.measure(p, size)
		if kept.practiceHeight() <= kept.practiceRoom(p) {
			return kept, size
		}
	}
	for kept.count() > 0 && kept.practiceHeight() > kept.practiceRoom(p) {
		kept.keep(kept.count() - 1)
	}
	return kept, size
}

// measure finds the heights of all mixes in a size of type.
func (h *Handout) measure(p *press, size float64) {
	width := float64((p.inner()-gutter)/2) - textIndent
	for i := range h.Planes {
		for j := range h.Planes[i].Mixes {
			m := &h.Planes[i].Mixes[j]
			lines := 1 + p.lines(width, size, m.words())
			m.height = max(leastRow, float64(float64(lines)*size*pointMM*leading)) + 1.2
		}
	}
}

// practiceRoom is the height that a page leaves for the columns.
func (h *Handout) practiceRoom(p *press) float64 {
	line := func(words string) float64 {
		return float64(float64(p.lines(p.inner(), nameSize, words))*nameSize*pointMM*leading) + 1
	}
	room := p.bottom() - margin - 16*pointMM*leading - 5 - line(practiceWords)
	if words := h.leftOutWords(); words != "" {
		room -= line(words)
	}
	return room
}

func (h *Handout) practiceHeight() float64 {
	left, right := h.columns()
	return max(columnHeight(left), columnHeight(right))
}

// leftOutWords name what found no room; empty where everything did.
func (h *Handout) leftOutWords() string {
	switch n := len(h.leftOut); n {
	case 0:
		return ""
	case 1:
		return "No room for the colour of the smallest area: " + h.leftOut[0] + "."
	default:
		return fmt.Sprintf("No room for the %d colours of the smallest areas: %s.", n, Some(h.leftOut))
	}
}

// Some are the first names of a list, and how many more there are.
func Some(names []string) string {
	const most = 12
	rest := ""
	if n := len(names) - most; n > 0 {
		names, rest = names[:most], fmt.Sprintf("; and %d more", n)
	}
	return strings.Join(names, "; ") + rest
}

func (h *Handout) drawPractice(p *press, size float64) {
	p.bold(margin, p.y, p.inner(), 16, "Practice")
	p.y += 16 * pointMM * leading
	p.ruler()
	p.paragraph(nameSize, practiceWords)
	if words := h.leftOutWords(); words != "" {
		p.paragraph(nameSize, words)
	}
	left, right := h.columns()
	room := p.bottom() - p.y
	width := float64((p.inner() - gutter) / 2)
	for i, items := range [][]item{left, right} {
		extra := min((room-columnHeight(items))/float64(max(1, len(items))), mostExtra)
		h.drawColumn(p, items, margin+float64(float64(i)*(width+gutter)), width, size, max(0, extra))
	}
}

func (h *Handout) drawColumn(p *press, items []item, x, width, size, extra float64) {
	y := p.y
	for _, it := range items {
		if it.mix == nil {
			p.bold(x, y+0.5, width, 10, upperFirst(it.heading))
			y += headingRow
			continue
		}
		height := it.height() + extra
		h.drawMix(p, it.mix, x, y, width, height-1.2, size)
		y += height
	}
}

func (h *Handout) drawMix(p *press, m *Mix, x, y, width, height, size float64) {
	p.pair(x, y, 2*practiceBox, height, m.Target, m.Mixed)
	p.frame(x+2*practiceBox, y, practiceBox, height)
	tx, tw := x+textIndent, width-textIndent
	p.noted(tx, y-0.4, tw, size, fmt.Sprintf("%d %s", m.No, m.Name), h.note(m))
	p.wrapped(tx, y-0.4+float64(size*pointMM*leading), tw, size, m.words())
}

// words are the recipe and, where it misses its colour, how.
func (m *Mix) words() string {
	if m.Words == "" {
		return m.Recipe
	}
	return m.Recipe + " (" + m.Words + ")"
}

func columnHeight(items []item) (sum float64) {
	for _, it := range items {
		sum += it.height()
	}
	return sum
}

func (it item) height() float64 {
	if it.mix == nil {
		return headingRow
	}
	return it.mix.height
}

// columns splits planes and mixes in two of about the same height. A plane that
// is cut gets its heading again, and none stands alone at the foot of the first.
func (h *Handout) columns() (left, right []item) {
	var all []item
	for i := range h.Planes {
		plane := &h.Planes[i]
		all = append(all, item{heading: plane.title()})
		for j := range plane.Mixes {
			m := &plane.Mixes[j]
			if base := m.base; base != "" && (j == 0 || plane.Mixes[j-1].base != base) {
				all = append(all, item{heading: plane.title() + ", from " + base})
			}
			all = append(all, item{mix: m})
		}
	}
	half := columnHeight(all) / 2
	split, sum := 0, 0.0
	for split < len(all) && sum < half {
		sum += all[split].height()
		split++
	}
	for split > 0 && split < len(all) && all[split-1].mix == nil {
		split--
	}
	left, right = all[:split], all[split:]
	if len(right) > 0 && right[0].mix != nil {
		right = append([]item{{heading: lastHeading(left) + ", continued"}}, right...)
	}
	return left, right
}

func (p Plane) title() string {
	if p.Name == "" {
		return "anywhere"
	}
	return p.Name
}

func lastHeading(items []item) (heading string) {
	for _, it := range items {
		if it.mix == nil {
			heading = it.heading
		}
	}
	return heading
}
