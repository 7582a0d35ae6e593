package page

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
)

// tableRequest is what is asked at the mixing table; each question reads its
// own fields.
type tableRequest struct {
	Palette   []string     `json:"palette"`
	Light     string       `json:"light"`
	Surface   string       `json:"surface"`
	Tolerance float64      `json:"tolerance"`
	Colour    string       `json:"colour"` // wanted
	Pile      []ingredient `json:"pile"`
	Steps     int          `json:"steps"` // of a string
	Eye       *eyed        `json:"eye"`
	Seen      string       `json:"seen"` // a notation
	Photo     *pilePhoto   `json:"photo"`
}

// ingredient is so many parts of a tube, or of a tube let down.
type ingredient struct {
	Tube  string  `json:"tube"`
	In    string  `json:"in,omitempty"`    // the paint it is let down in
	Ratio int     `json:"ratio,omitempty"` // parts of In to one of Tube each time it is let down
	Times int     `json:"times,omitempty"`
	Parts float64 `json:"parts"`
}

// Bounds of a pile beyond what lies on a palette.
const (
	mostIngredients = 20
	mostRatio       = 1000
)

// tolerance is what was asked for, or the usual where that is none.
func (q *tableRequest) tolerance() float64 {
	if q.Tolerance > 0 && q.Tolerance <= 100 {
		return q.Tolerance
	}
	return scene.DefaultTolerance
}

// bench is where a question at the table is answered.
type bench struct {
	*tableRequest
	all   *catalog.Catalogue
	sight gamut.Options
	held  *dropped // the photograph it names
}

// atTable answers one question at the mixing table.
func (s *Server) atTable(answer func(context.Context, *bench) (any, error)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var q tableRequest
		if err := s.readJSON(w, r, &q); err != nil {
			fail(w, err)
			return
		}
		b := &bench{tableRequest: &q, all: s.stock()}
		if err := b.look(); err != nil {
			fail(w, err)
			return
		}
		p := newReply(w, r)
		var about any
		if q.Photo != nil {
			about = decoding
			var err error
			if b.held, err = s.photograph(p, q.Photo.ID); err != nil {
				p.fail(err)
				return
			}
		}
		doc, err := inTurn(s, p, about, func(ctx context.Context) (any, error) { return answer(ctx, b) })
		if err != nil {
			p.fail(err)
			return
		}
		p.json(doc)
	}
}

// look reads how a question sees its mixes, and holds it to its bounds.
func (b *bench) look() error {
	var err error
	if b.sight, err = sightOf(b.all, b.Light, b.Surface); err != nil {
		return err
	}
	if n := max(len(b.Palette), len(b.Pile)); n > mostEntries {
		return tooMany("tubes", n, mostEntries)
	}
	if len(b.Pile) > mostIngredients {
		return tooMany("paints in a pile", len(b.Pile), mostIngredients)
	}
	return nil
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

// tubes are those to mix from.
func (b *bench) tubes() (*mixing.Table, error) {
	tubes, err := paletteOf(b.all, b.Palette)
	if err == nil && len(tubes) == 0 {
		err = errors.New("there is no tube to mix from")
	}
	if err != nil {
		return nil, err
	}
	return mixing.NewTable(tubes, b.sight)
}

// part is a part of a recipe as the table lists it.
func (b *bench) part(p hand.Part) report.PlanPart {
	return report.NewPlanPart(p, b.all.Tubes(), b.sight.Light, b.sight.Surface)
}

func (b *bench) parts(r *hand.Recipe) []report.PlanPart {
	out := []report.PlanPart{}
	for _, p := range r.Parts {
		out = append(out, b.part(p))
	}
	slices.SortStableFunc(out, func(p, q report.PlanPart) int { return cmp.Compare(q.Parts, p.Parts) })
	return out
}

// amounts are the tubes of a pile, what is let down parted into them.
func (b *bench) amounts() ([]mixing.Amount, error) {
	var out []mixing.Amount
	add := func(id string, parts float64) error {
		t, err := b.all.Get(id)
		if err != nil {
			return err
		}
		if i := slices.IndexFunc(out, func(a mixing.Amount) bool { return a.ID == t.ID }); i >= 0 {
			out[i].Parts += parts
		} else {
			out = append(out, mixing.Amount{ID: t.ID, Parts: parts})
		}
		return nil
	}
	for _, g := range b.Pile {
		switch {
		case !(g.Parts > 0 && g.Parts <= mixing.MostParts):
			return nil, fmt.Errorf("a pile takes more than no part of a paint, and at most %d", mixing.MostParts)
		case g.In != "" && (g.Ratio < 1 || g.Ratio > mostRatio || g.Times < 0 || g.Times > 2):
			return nil, fmt.Errorf("a paint is let down once or twice, 1 part in 1 to %d", mostRatio)
		}
		strong := g.Parts
		if g.In != "" {
			for range max(g.Times, 1) {
				strong /= float64(g.Ratio + 1)
			}
			if err := add(g.In, g.Parts-strong); err != nil {
				return nil, err
			}
		}
		if err := add(g.Tube, strong); err != nil {
			return nil, err
		}
	}
	if len(out) == 0 {
		return nil, errors.New("no paint lies there yet; add some")
	}
	return out, nil
}

// laidOut is a table with every tube, and the pile on it.
func (b *bench) laidOut() (*mixing.Table, []mixing.Amount, error) {
	amounts, err := b.amounts()
	if err != nil {
		return nil, nil, err
	}
	table, err := mixing.NewTable(b.all.Tubes(), b.sight)
	return table, amounts, err
}

// apart is how far a colour lies from the one wanted.
type apart struct {
	swatch
	DE    shown.Hundredths `json:"de"`
	Judge string           `json:"judge"` // the difference in a word
	Miss  string           `json:"miss"`  // to which side: "too dark by 2.1"
}

func newApart(c, wanted colour.Lab) apart {
	de := shown.Nearest(colour.DE2000(c, wanted))
	return apart{newSwatch(c), de, shown.Judgement(de), missWords(c, wanted)}
}

// missWords say what is wrong in the fewest words.
func missWords(c, wanted colour.Lab) string {
	var out []string
	for _, f := range colour.Direction(c, wanted).Faults {
		out = append(out, fmt.Sprintf("%s by %s", f.Fault.Brief(), shown.Digits(f.By, 1)))
	}
	return strings.Join(out, ", ")
}

// mix lists recipes for a colour.
func mix(ctx context.Context, b *bench) (any, error) {
	target, err := readColour("the colour wanted", b.Colour)
	if err != nil {
		return nil, err
	}
	table, err := b.tubes()
	if err != nil {
		return nil, err
	}
	found, err := table.ByHand(ctx, target, b.tolerance(), hand.Usual())
	if err != nil {
		return nil, err
	}
	type way struct {
		apart
		Parts []report.PlanPart `json:"parts"`
		Words string            `json:"words"`
	}
	out := struct {
		Wanted swatch `json:"wanted"`
		Ways   []way  `json:"ways"`
	}{newSwatch(target), []way{}}
	for i := range found.List {
		h := found.List[i].Hand
		out.Ways = append(out.Ways, way{newApart(h.Lab, target), b.parts(h), h.Words(tubelist.List(table.Tubes).Name)})
	}
	return out, nil
}

// pile says what amounts of tubes look like, beside the colour wanted where there is
// one, and what becomes of them by lamplight.
func pile(_ context.Context, b *bench) (any, error) {
	table, amounts, err := b.laidOut()
	if err != nil {
		return nil, err
	}
	white := ""
	if i := catalog.WhiteOf(table.Tubes); i >= 0 {
		white = table.Tubes[i].ID
	}
	laid := table.Pile(amounts, white)
	doc := piles.NewPileLook(table, laid, false)
	lit := b.sight
	lit.Light = colour.A()
	under, err := mixing.NewTable(table.Tubes, lit)
	if err != nil {
		return nil, err
	}
	type tint struct {
		White float64 `json:"white"`
		Hex   string  `json:"hex"`
		Value string  `json:"value"`
	}
	out := struct {
		apart
		Order string  `json:"order"`
		Lamp  apart   `json:"lamp"` // as it looks by lamplight, and how that differs from daylight
		Want  *swatch `json:"want"`
		Tints []tint  `json:"tints"`
	}{apart: newApart(laid.Lab, laid.Lab), Order: doc.Order, Lamp: newApart(under.Colour(amounts), laid.Lab), Tints: []tint{}}
	for _, t := range laid.Ladder {
		out.Tints = append(out.Tints, tint{t.White, shown.Hex(t.Lab), shown.Value(t.Lab.L)})
	}
	if b.Colour != "" {
		want, err := readColour("the colour wanted", b.Colour)
		if err != nil {
			return nil, err
		}
		s := newSwatch(want)
		out.Want, out.apart = &s, newApart(laid.Lab, want)
	}
	return out, nil
}

// valueString is a hue over steps of value.
func valueString(ctx context.Context, b *bench) (any, error) {
	target, err := readColour("the colour wanted", b.Colour)
	if err != nil {
		return nil, err
	}
	if b.Steps < 2 || b.Steps > recipe.MostString {
		return nil, fmt.Errorf("a string has 2 to %d values", recipe.MostString)
	}
	table, err := b.tubes()
	if err != nil {
		return nil, err
	}
	found, err := table.ValueString(ctx, target, b.tolerance(), b.Steps, hand.Usual())
	if err != nil {
		return nil, err
	}
	doc := piles.NewValueString(table, &found, b.tolerance(), false)
	return struct {
		Verdict string            `json:"verdict"`
		Note    string            `json:"note"`
		Steps   []piles.StringRow `json:"steps"`
	}{doc.Verdict(), doc.Note(), doc.Rows()}, nil
}

func readColour(field, text string) (colour.Lab, error) {
	c, err := colour.Parse(text)
	if err != nil {
		return c, fmt.Errorf("%s: %w", field, err)
	}
	return c, nil
}
