package piles

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
)

const schemaPile = "fewtubes pile 1"

// PileLook is the document of pile: what a recipe looks like, and its tints.
type PileLook struct {
	Schema string `json:"schema"`
	shown.Sight
	Parts       Amounts `json:"parts"`
	shown.Look          // of the pile
	White       string  `json:"white,omitempty"`
	Ladder      []Tint  `json:"ladder"`
	MunsellNote string  `json:"munsell_note,omitempty"`
	Order       string  `json:"order"`

	Tubes []tubelist.Line `json:"tubes"`
	used  tubelist.List
}

// Tint is a pile let down with white.
type Tint struct {
	White float64 `json:"white"` // volumes to one of the pile
	shown.Look
}

// NewPileLook builds the document of a pile on a table.
func NewPileLook(t *mixing.Table, p mixing.Pile, munsell bool) *PileLook {
	used := tubelist.List(t.Used(p.IDs()...))
	out := &PileLook{
		Schema: schemaPile, Sight: shown.SightOf(t.Light, t.Surface), Parts: p.Amounts, Look: shown.NewLook(p.Lab, munsell),
		White: p.White, Ladder: []Tint{}, Tubes: used.Lines(), used: used,
	}
	for _, rung := range p.Ladder {
		out.Ladder = append(out.Ladder, Tint{rung.White, shown.NewLook(rung.Lab, munsell)})
	}
	order, pull := t.Order(p.Amounts)
	out.Order = orderSentence(used.Names(order), pull)
	if munsell {
		out.MunsellNote = shown.MunsellNote(out.Light)
	}
	return out
}

// ladderHeading says what the tints are made with.
func (p *PileLook) ladderHeading() string {
	return "Let down with " + p.used.Name(p.White) + ", volumes of white to one of the pile"
}

// Text is the pile for a terminal.
func (p *PileLook) Text(s terminal.Style) string {
	var b strings.Builder
	b.WriteString(s.SwatchLine(p.Lab))
	b.WriteString(s.Wrap("", 2, p.Parts.Recipe(func(id string) string { return id })))
	b.WriteString(s.Wrap("  ", 2, shown.Capital(p.Look.String())+" ("+p.SeenUnder()+")."))
	b.WriteString(s.Wrap("  ", 2, p.Order))
	if len(p.Ladder) > 0 {
		terminal.Heading(&b, s, p.ladderHeading())
	}
	for _, t := range p.Ladder {
		lead := "  " + terminal.Row(s.Swatch(t.Lab.Colour(), 6), terminal.Pad(fmt.Sprintf("%g", t.White), -2)) + "  "
		b.WriteString(s.WrapAfter(lead, t.Look.String()))
	}
	b.WriteString(s.MunsellLine(p.MunsellNote))
	s.Close(&b, p.used.Cautions(p.used.IDs()))
	return b.String()
}
