package piles

import (
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/letdown"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut/film"
)

// LetDown is a recipe in whole parts that lets strong paints down first, given
// where plain parts are too coarse.
type LetDown struct {
	Piles []Pile           `json:"piles"`
	Lab   shown.Lab        `json:"lab"`
	DE    shown.Hundredths `json:"de"`

	recipe letdown.Recipe
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

// NewLetDown is a recipe as shown beside a colour with this tolerance.
func NewLetDown(r letdown.Recipe, tolerance float64) *LetDown {
	out := &LetDown{Lab: shown.LabOf(r.Lab), DE: shown.DE(r.DE, tolerance, r.DE <= tolerance), recipe: r}
	for k, pile := range r.Piles {
		q := Pile{Tube: pile.Tube, In: pile.In, Ratio: pile.Ratio, Parts: float64(r.Parts[k])}
		switch {
		case pile.Twice:
			q.Times = 2
		case pile.In != "":
			q.Times = 1
		}
		out.Piles = append(out.Piles, q)
	}
	return out
}

// Paint is a tube, or a tube let down, per volume.
func (p Pile) Paint(l tubelist.List) film.Paint {
	out := l.Tube(p.Tube).Paint
	for range p.Times {
		strong := out
		share := 1 / float64(p.Ratio+1)
		film.Mix(&out, []film.Paint{strong, l.Tube(p.In).Paint}, []float64{share, 1 - share})
	}
	return out
}

// Of are the ingredients of a recipe.
func Of(r *hand.Recipe) (out []Pile) {
	for _, p := range r.Parts {
		pile := Pile{Tube: p.Tube, In: p.In, Ratio: p.Ratio, Parts: p.Parts()}
		if p.Pile != nil {
			pile.Prepared = p.Pile.ID
		}
		if p.In != "" {
			pile.Times = 1
		}
		out = append(out, pile)
	}
	return out
}

// Words is the recipe in words.
func (l *LetDown) Words(name func(string) string) string { return l.recipe.Words(name) }
