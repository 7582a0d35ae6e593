package report

import (
	"fmt"
	"strings"
)

// Text is the recipes for a terminal.
func (m *Mixes) Text(s Style) string {
	var b strings.Builder
	b.WriteString(s.swatchLine(m.Wanted.Lab))
	b.WriteString(s.wrap("", 2, "Wanted: "+m.Wanted.String()+"."))
	b.WriteString(s.wrap("", 2, fmt.Sprintf("From %s; at most %s in a mix; %s.",
		strings.Join(m.Palette, ", "), counted(m.PaintsPerMix, "paint"), m.SeenUnder())))
	b.WriteString("\n" + s.wrap("", 2, m.Verdict()))
	for i, r := range m.Recipes {
		m.writeRecipe(&b, s, i+1, r)
	}
	b.WriteString(s.munsellLine(m.MunsellNote))
	m.used.writeCautions(&b, s)
	return b.String()
}

func (m *Mixes) writeRecipe(b *strings.Builder, s Style, no int, r MixRecipe) {
	id := func(id string) string { return id }
	r = r.shown()
	b.WriteString("\n" + s.wrapAfter(fmt.Sprintf("%d  ", no)+s.pair(m.Wanted.Lab, r.Lab), r.words(id)))
	b.WriteString(s.wrap("   ", 3, r.missWords()+"."))
	b.WriteString(s.wrap("   ", 3, capital(r.Look.String())+"."))
	b.WriteString(s.wrap("   ", 3, r.Order))
	if let := r.LetDown; let != nil {
		b.WriteString(s.wrap("   ", 3, r.LossSentence()))
		b.WriteString(s.wrapAfter("   Let down first: "+s.pair(m.Wanted.Lab, let.Lab), let.recipe.Words(id)))
		b.WriteString(s.wrap("   ", 3, differenceWords(let.DE, let.Direction)+"."))
		b.WriteString(s.wrap("   ", 3, let.Order))
	}
}

// pair is two swatches that touch, and a blank behind them.
func (s Style) pair(left, right Lab) string {
	if !s.Swatches {
		return ""
	}
	return s.swatch(left.Colour(), 3) + s.swatch(right.Colour(), 3) + " "
}

// swatchLine is a wide swatch on a line of its own.
func (s Style) swatchLine(c Lab) string {
	if !s.Swatches {
		return ""
	}
	return s.swatch(c.Colour(), 16) + "\n"
}

// writeCautions ends a text: the hazards of the tubes it touches, and the note
// that goes for all.
func (l tubeList) writeCautions(b *strings.Builder, s Style) {
	heading(b, s, "Cautions")
	for _, w := range l.cautions(l.ids()) {
		b.WriteString(s.wrap("  ", 4, w.String()))
	}
	b.WriteString(s.wrap("  ", 2, SafetyNote))
}
