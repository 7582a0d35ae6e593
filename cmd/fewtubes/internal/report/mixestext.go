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
		b.WriteString(s.wrapAfter("   Let down first: "+s.pair(m.Wanted.Lab, let.Lab), let.Words(id)))
		b.WriteString(s.wrap("   ", 3, differenceWords(let.DE, let.Direction)+"."))
		b.WriteString(s.wrap("   ", 3, let.Order))
	}
}
