package report

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/solver"
)

// A palette that has more tubes than reach needs says what each buys and offers
// the smaller one, in every form with the same figures.
func TestFewerTubesAreOffered(t *testing.T) {
	p := fixtureProblem()
	a := fixtureAnswer(p)
	smaller := fixturePalette(p, 0, 1, 2)
	a.Smaller = &smaller
	a.Superfluous = []solver.Superfluous{{
		Tube: "cool-green", Tubes: 4, Price: 4570,
		Brings: []solver.Gain{{Target: "buoy", From: 12.3456, To: 11.2}, {Target: "ebb channel", From: 9.514, To: 9.49}},
	}}
	c := NewChoice(Scene{Title: "Ebb", Tolerance: 6}, p, a)
	page, err := c.HTML()
	if err != nil {
		t.Fatal(err)
	}
	said := "brings buoy from 12.35 to 11.20 and ebb channel from 9.51 to 9.49; without it four tubes, price 45.70"
	offer := fmt.Sprintf("price %s, worst %s, mean %s", shown.Cents(smaller.Price), c.Smaller.WorstDE, c.Smaller.MeanDE)
	text := c.Text(terminal.Style{Width: 1000, More: true})
	for _, want := range []string{said, offer} {
		if !strings.Contains(text, want) || !strings.Contains(string(page), want) {
			t.Errorf("%q: in text %v, on page %v", want, strings.Contains(text, want), strings.Contains(string(page), want))
		}
	}
	if row := `<tr data-palette="titanium-white,warm-yellow,earth-red">`; !strings.Contains(string(page), row) {
		t.Error("the page has no row for the smaller palette")
	}
	var doc struct {
		Superfluous []struct {
			Tube   string
			Brings []struct{ From, To float64 }
			Price  float64
		}
		Smaller struct{ Tubes []string }
	}
	data, err := shown.JSON(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	if x := doc.Superfluous; len(x) != 1 || x[0].Brings[0].From != 12.35 || x[0].Price != 45.7 || len(doc.Smaller.Tubes) != 3 {
		t.Errorf("%+v", doc)
	}
	if c := fixture(); c.FewerHeading() != "" || strings.Contains(c.Text(terminal.Style{Width: 100}), "reach as much") {
		t.Error("offered where there is nothing to offer")
	}
}
