package page

import (
	"cmp"
	"net/http"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// tubeCard is a tube as the page lists it.
type tubeCard struct {
	tubelist.Line
	Masstone string     `json:"masstone"` // #rrggbb
	Tint     string     `json:"tint"`
	Hue      colour.Hue `json:"hue"` // of the tint, in a word
	Words    string     `json:"words"`
	Family   string     `json:"family"` // its shelf in the box
	Value    string     `json:"value"`
}

// tubes lists the catalogue and the classes a painter may avoid.
func (s *Server) tubes(w http.ResponseWriter, _ *http.Request) {
	stock := s.stock()
	shelves := familiesOf(s.box.from)
	doc := tubelist.NewCatalogue(stock.Tubes(), stock.Surface(film.AsDried), colour.D65())
	cards := make([]tubeCard, len(doc.Tubes))
	for i, t := range doc.Tubes {
		masstone, tint := t.Lab.Colour(), t.TintLab.Colour()
		hue := colour.Name(tint).Hue
		if colour.Name(tint).Chroma == colour.Grey {
			hue = "neutral"
		}
		cards[i] = tubeCard{t.Line, shown.Hex(masstone), shown.Hex(tint), hue, colour.Name(masstone).String(), cmp.Or(shelves[t.ID], ownFamily), shown.Value(masstone.L)}
	}
	writeJSON(w, map[string]any{"tubes": cards, "classes": catalog.Classes(), "safety": shown.SafetyNote})
}
