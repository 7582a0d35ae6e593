package packing

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Text is the plan for a terminal of the given width.
func (p *Plan) Text(width int) string {
	w := &writer{width: width}
	title := ""
	if p.Title != "" {
		title = p.Title + ": "
	}
	w.wrap("", fmt.Sprintf("%s%v x %v cm, %s of %v mm, %.0f %% for waste: %.1f ml on the picture, %.1f ml from the tubes.",
		title, p.WidthCM, p.HeightCM, counted(p.Coats, "coat"), p.FilmMM, 100*p.Waste, p.LaidML, p.TotalML))
	p.writeTubes(w)
	p.writeOrder(w)
	w.list("Cautions", p.Cautions)
	w.list("On the way", p.Travel)
	w.list("Figures used (common practice, no source)", p.Practice)
	return w.b.String()
}

func (p *Plan) writeTubes(w *writer) {
	w.heading(fmt.Sprintf("Take along, %d g in all", p.TotalG))
	longest := 0
	for _, t := range p.Tubes {
		longest = max(longest, len(t.ID))
	}
	for _, t := range p.Tubes {
		fmt.Fprintf(&w.b, "  %-*s %7.1f ml   %s, %d g\n", longest, t.ID, t.ML, taken(t.Take), t.Grams)
	}
	if len(p.Unused) > 0 {
		w.wrap("  ", "In no recipe, may stay at home: "+strings.Join(p.Unused, ", ")+".")
	}
	if len(p.Missed) > 0 {
		w.wrap("  ", "Counted with the nearest mix, being out of reach: "+strings.Join(p.Missed, ", ")+".")
	}
}

func (p *Plan) writeOrder(w *writer) {
	if len(p.Order) == 0 {
		return
	}
	w.heading("Drying order")
	for _, d := range p.Order {
		w.wrap("  ", fmt.Sprintf("%s driers, %s: %s", d.Speed, d.Where, strings.Join(d.Tubes, ", ")))
	}
}

// taken puts tubes in words: "1 x 40 ml", "2 x 200 ml + 1 x 20 ml".
func taken(tubes []Take) string {
	words := make([]string, len(tubes))
	for i, t := range tubes {
		words[i] = fmt.Sprintf("%d x %v ml", t.Count, t.SizeML)
	}
	return strings.Join(words, " + ")
}

func counted(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// writer breaks lines at a width.
type writer struct {
	b     strings.Builder
	width int
}

func (w *writer) heading(text string) { fmt.Fprintf(&w.b, "\n%s\n", text) }

func (w *writer) list(heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	w.heading(heading)
	for _, l := range lines {
		w.wrap("  ", l)
	}
}

// wrap writes a paragraph; lines after the first hang two columns further in.
func (w *writer) wrap(indent, text string) {
	at := 0
	for i, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		switch {
		case i == 0:
			w.b.WriteString(indent)
			at = len(indent)
		case at+1+n > w.width:
			w.b.WriteString("\n" + indent + "  ")
			at = len(indent) + 2
		default:
			w.b.WriteByte(' ')
			at++
		}
		w.b.WriteString(word)
		at += n
	}
	w.b.WriteByte('\n')
}
