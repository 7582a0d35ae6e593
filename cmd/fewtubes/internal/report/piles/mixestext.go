package piles

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
)

// Text is the recipes for a terminal.
func (m *Mixes) Text(s terminal.Style) string {
	var b strings.Builder
	b.WriteString(s.SwatchLine(m.Wanted.Lab))
	b.WriteString(s.Wrap("", 2, "Wanted: "+m.Wanted.String()+"."))
	b.WriteString(s.Wrap("", 2, fmt.Sprintf("From %s; at most %s in a mix; %s.",
		strings.Join(m.Palette, ", "), shown.Counted(m.PaintsPerMix, "paint"), m.SeenUnder())))
	b.WriteString("\n" + s.Wrap("", 2, m.Verdict()))
	for i, r := range m.Recipes {
		m.writeRecipe(&b, s, i+1, r)
	}
	b.WriteString(s.MunsellLine(m.MunsellNote))
	s.Close(&b, m.used.Cautions(m.used.IDs()))
	return b.String()
}

func (m *Mixes) writeRecipe(b *strings.Builder, s terminal.Style, no int, r MixRecipe) {
	id := func(id string) string { return id }
	r = r.shown()
	b.WriteString("\n" + s.WrapAfter(fmt.Sprintf("%d  ", no)+s.Pair(m.Wanted.Lab, r.Lab), r.words(id)))
	b.WriteString(s.Wrap("   ", 3, r.missWords()+"."))
	b.WriteString(s.Wrap("   ", 3, shown.Capital(r.Look.String())+"."))
	b.WriteString(s.Wrap("   ", 3, r.Order))
	if let := r.LetDown; let != nil {
		b.WriteString(s.Wrap("   ", 3, r.LossSentence()))
		b.WriteString(s.WrapAfter("   Let down first: "+s.Pair(m.Wanted.Lab, let.Lab), let.Words(id)))
		b.WriteString(s.Wrap("   ", 3, differenceWords(let.DE, let.Direction)+"."))
		b.WriteString(s.Wrap("   ", 3, let.Order))
	}
}
