package page

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// tableRequest is what is asked at the mixing table; each question reads its
// own fields.
type tableRequest struct {
	Palette   []string `json:"palette"`
	Light     string   `json:"light"`
	Surface   string   `json:"surface"`
	Tolerance float64  `json:"tolerance"`
	Colour    string   `json:"colour"`
	Pile      string   `json:"pile"` // 3:ultramarine-blue, 1:yellow-ochre
	Want      string   `json:"want"`
	Seen      string   `json:"seen"` // empty: as computed
}

// tolerance is what was asked for, or the usual where that is none.
func (q *tableRequest) tolerance() float64 {
	if q.Tolerance > 0 && q.Tolerance <= 100 {
		return q.Tolerance
	}
	return scene.DefaultTolerance
}

// atTable answers one question at the mixing table.
func (s *Server) atTable(answer func(context.Context, *tableRequest, gamut.Options) (document, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var q tableRequest
		if err := s.readJSON(w, r, &q); err != nil {
			fail(w, err)
			return
		}
		sight, err := s.sight(&q)
		if err != nil {
			fail(w, err)
			return
		}
		p := newReply(w, r)
		doc, err := inTurn(s, p, nil, func(ctx context.Context) (document, error) { return answer(ctx, &q, sight) })
		if err != nil {
			p.fail(err)
			return
		}
		p.document(doc)
	}
}

// sight is how a question sees its mixes.
func (s *Server) sight(q *tableRequest) (gamut.Options, error) {
	return sightOf(s.stock(), q.Light, q.Surface)
}

// sightOf is a light and a surface by name.
func sightOf(stock *catalog.Catalogue, light, surface string) (gamut.Options, error) {
	under, err := colour.ParseLight(light)
	if err != nil {
		return gamut.Options{}, err
	}
	view, err := film.ParseView(surface)
	return gamut.Options{Surface: stock.Surface(view), Light: under}, err
}

// mix lists recipes for a colour.
func (s *Server) mix(ctx context.Context, q *tableRequest, sight gamut.Options) (document, error) {
	target, err := readColour("a colour to mix", q.Colour)
	if err != nil {
		return nil, err
	}
	tubes, err := s.palette(q.Palette)
	if err != nil {
		return nil, err
	}
	if len(tubes) == 0 {
		return nil, errors.New("name the tubes to mix from")
	}
	table, err := mixing.NewTable(tubes, sight)
	if err != nil {
		return nil, err
	}
	found, err := table.ByHand(ctx, target, q.tolerance(), hand.Usual())
	if err != nil {
		return nil, err
	}
	return piles.NewMixes(table, found, q.tolerance(), false), nil
}

// pile says what amounts of tubes look like.
func (s *Server) pile(_ context.Context, q *tableRequest, sight gamut.Options) (document, error) {
	table, amounts, err := s.laidOut(q.Pile, sight)
	if err != nil {
		return nil, err
	}
	white := ""
	if i := catalog.WhiteOf(table.Tubes); i >= 0 {
		white = table.Tubes[i].ID
	}
	return piles.NewPileLook(table, table.Pile(amounts, white), false), nil
}

// correct says what to add to a pile.
func (s *Server) correct(ctx context.Context, q *tableRequest, sight gamut.Options) (document, error) {
	table, have, err := s.laidOut(q.Pile, sight)
	if err != nil {
		return nil, err
	}
	want, err := readColour("should be", q.Want)
	if err != nil {
		return nil, err
	}
	var seen *colour.Lab
	if strings.TrimSpace(q.Seen) != "" {
		c, err := readColour("looks like", q.Seen)
		if err != nil {
			return nil, err
		}
		seen = &c
	}
	if _, err := s.palette(q.Palette); err != nil {
		return nil, err
	}
	found, err := table.Mend(ctx, have, want, seen, q.Palette, q.tolerance())
	if err != nil {
		return nil, err
	}
	return piles.NewCorrection(table, &found, false), nil
}

// laidOut is a table with every tube, and a pile on it.
func (s *Server) laidOut(pile string, sight gamut.Options) (*mixing.Table, []mixing.Amount, error) {
	amounts, err := mixing.ParseAmounts(pile)
	if err != nil {
		return nil, nil, err
	}
	stock := s.stock()
	if err := mixing.FindTubes(stock, amounts); err != nil {
		return nil, nil, err
	}
	table, err := mixing.NewTable(stock.Tubes(), sight)
	return table, amounts, err
}

func readColour(field, text string) (colour.Lab, error) {
	c, err := colour.Parse(text)
	if err != nil {
		return c, fmt.Errorf("%s: %w", field, err)
	}
	return c, nil
}
