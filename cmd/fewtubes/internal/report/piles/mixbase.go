package piles

import (
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// MixBase is a recipe as so much of a base and what is added.
type MixBase struct {
	Parts Amounts `json:"parts"` // of the base
	Take  int     `json:"take"`
	Add   Amounts `json:"add"`
}

// noBaseNote ends a verdict where bases were given.
const noBaseNote = " No base, with at most two additions, comes within the tolerance."

// partsOf are the tubes of a recipe, those in its base included; sum 1.
func partsOf(h *hand.Recipe) (out Amounts) {
	for _, s := range h.Shares() {
		out = append(out, mixing.Amount{ID: s.ID, Parts: s.Fraction})
	}
	return out
}

// takeBase tells what the base is, and the order of mixing with it.
func (m *MixRecipe) takeBase(h *hand.Recipe, name func(string) string) {
	base := h.FromBase()
	m.FromBase = &MixBase{Take: h.Parts[0].Quarters / 4, Add: Amounts{}}
	for _, p := range base.Of {
		m.FromBase.Parts = append(m.FromBase.Parts, mixing.Amount{ID: p.Tube, Parts: float64(p.Parts)})
	}
	called := strings.ReplaceAll(base.ID, "-", " ")
	names := []string{called}
	for _, p := range h.Parts[1:] {
		m.FromBase.Add = append(m.FromBase.Add, mixing.Amount{ID: p.Tube, Parts: p.Parts()})
		names = append(names, name(p.Tube))
	}
	m.Order = shown.Capital(called) + " is " + base.Of.Words(name) + "."
	if len(names) > 1 {
		m.Order += " " + orderSentence(names, 0)
	}
}
