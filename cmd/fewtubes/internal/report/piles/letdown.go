package piles

import (
	"slices"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// LetDown is a recipe in whole parts that lets strong paints down first, given
// where plain parts are too coarse.
type LetDown struct {
	Piles []Pile           `json:"piles"`
	Lab   shown.Lab        `json:"lab"`
	DE    shown.Hundredths `json:"de"`

	recipe hand.Recipe
}

// Pile is an ingredient: a tube, or a tube let down once or twice in another.
type Pile struct {
	Tube  string  `json:"tube"`
	In    string  `json:"in,omitempty"`
	Times int     `json:"times"`           // let down: 0, 1 or 2
	Ratio int     `json:"ratio,omitempty"` // parts of In to one of Tube, each time
	Parts float64 `json:"parts"`

	Prepared string `json:"prepared,omitempty"` // id, where it is prepared for the whole palette
}

// LetDownNote says how a recipe with let-down paints is read.
const LetDownNote = "Where a recipe says 1:10 or 1:5, let the strong paint down first: one part of it in ten, or five, of the paint named; twice means one part of that pile in as many once more."

// NewLetDown is a recipe as shown, with the difference that is shown.
func NewLetDown(r hand.Recipe, de shown.Hundredths) *LetDown {
	out := &LetDown{Lab: shown.LabOf(r.Lab), DE: de, recipe: r}
	for _, p := range r.Parts {
		pile := Pile{Tube: p.Tube, In: p.In, Times: p.Times, Ratio: p.Ratio, Parts: p.Parts()}
		if p.Pile != nil {
			pile.Prepared = p.Pile.ID
		}
		out.Piles = append(out.Piles, pile)
	}
	return out
}

// Words is the recipe in words.
func (l *LetDown) Words(name func(string) string) string { return l.recipe.Words(name) }

// Parts are what is measured, in the order of the recipe.
func (l *LetDown) Parts() []hand.Part { return slices.Clone(l.recipe.Parts) }
