package report

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/mixing"
)

const schemaPile = "fewtubes pile 1"

// PileLook is the document of pile: what a recipe looks like, and its tints.
type PileLook struct {
	Schema string `json:"schema"`
	Sight
	Parts       Amounts `json:"parts"`
	Look                // of the pile
	White       string  `json:"white,omitempty"`
	Ladder      []Tint  `json:"ladder"`
	MunsellNote string  `json:"munsell_note,omitempty"`
	Order       string  `json:"order"`

	Tubes []TubeLine `json:"tubes"`
	used  tubeList
}

// Tint is a pile let down with white.
type Tint struct {
	White float64 `json:"white"` // volumes to one of the pile
	Look
}

// NewPileLook builds the document of a pile on a table.
func NewPileLook(t *mixing.Table, p mixing.Pile, munsell bool) *PileLook {
	used := tubeList(t.Used(p.IDs()...))
	out := &PileLook{
		Schema: schemaPile, Sight: sightOf(t.Light, t.Surface), Parts: p.Amounts, Look: newLook(p.Lab, munsell),
		White: p.White, Ladder: []Tint{}, Tubes: used.lines(), used: used,
	}
	for _, rung := range p.Ladder {
		out.Ladder = append(out.Ladder, Tint{rung.White, newLook(rung.Lab, munsell)})
	}
	order, pull := t.Order(p.Amounts)
	out.Order = orderSentence(used.names(order), pull)
	if munsell {
		out.MunsellNote = munsellNote(out.Light)
	}
	return out
}

// ladderHeading says what the tints are made with.
func (p *PileLook) ladderHeading() string {
	return "Let down with " + p.used.name(p.White) + ", volumes of white to one of the pile"
}

// Text is the pile for a terminal.
func (p *PileLook) Text(s Style) string {
	var b strings.Builder
	b.WriteString(s.swatchLine(p.Lab))
	b.WriteString(s.wrap("", 2, p.Parts.Recipe(func(id string) string { return id })))
	b.WriteString(s.wrap("  ", 2, capital(p.Look.String())+" ("+p.SeenUnder()+")."))
	b.WriteString(s.wrap("  ", 2, p.Order))
	if len(p.Ladder) > 0 {
		heading(&b, s, p.ladderHeading())
	}
	for _, t := range p.Ladder {
		lead := "  " + row(s.swatch(t.Lab.Colour(), 6), pad(fmt.Sprintf("%g", t.White), -2)) + "  "
		b.WriteString(s.wrapAfter(lead, t.Look.String()))
	}
	b.WriteString(s.munsellLine(p.MunsellNote))
	p.used.writeCautions(&b, s)
	return b.String()
}
