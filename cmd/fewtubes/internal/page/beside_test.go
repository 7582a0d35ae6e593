package page

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"fewtubes/solver"
)

type besideResult struct {
	Columns []struct {
		besideColumn
		Price float64 `json:"price"` // as numbers
		Area  float64 `json:"area"`
	} `json:"columns"`
	Rows []struct {
		Name  string
		Cells []struct{ DE float64 }
	} `json:"rows"`
}

// askBeside is the last of what is streamed, and the kinds of the events but those about turns.
func askBeside(t testing.TB, text []byte) (out besideResult, kinds []string) {
	t.Helper()
	for event := range strings.SplitSeq(strings.TrimSpace(string(text)), "\n\n") {
		kind, data, _ := strings.Cut(event, "\n")
		kind = strings.TrimPrefix(kind, "event: ")
		if kind != "turn" && kind != "queue" {
			kinds = append(kinds, kind)
		}
		if kind == "result" {
			if err := json.Unmarshal([]byte(strings.TrimPrefix(data, "data: ")), &out); err != nil {
				t.Fatal(err)
			}
		}
	}
	return out, kinds
}

// Each column is the palette that choose finds under its limits with the box, as sure
// as it is held to be, and the rows begin with the colour that is served least alike.
func TestBesideIsChosen(t *testing.T) {
	server, s, _ := boxed(t)
	fill(t, server, `{"put": ["titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna", "cadmium-red-light", "cadmium-lemon", "viridian"]}`)
	question := strings.TrimSuffix(marshScene, "}") + `, "columns": ["no cadmium", "only my box", "no toxic pigment", "six for travel", "one tube fewer", "fewest in all"]}`
	status, _, text := send(t, server, "POST", "/beside", []byte(question), nil)
	if status != 200 {
		t.Fatalf("%d %s", status, text)
	}
	got, kinds := askBeside(t, text)
	if want := []string{"column", "column", "column", "column", "column", "column", "column", "result"}; !slices.Equal(kinds, want) {
		t.Fatalf("%v\n%.300s", kinds, text)
	}
	var q asks
	if err := json.Unmarshal([]byte(marshScene), &q); err != nil {
		t.Fatal(err)
	}
	sc, err := q.Scene.scene()
	if err != nil {
		t.Fatal(err)
	}
	all := s.stock()
	stands := 0
	byHand := map[string]func(*solver.Limits){
		asItStands:         func(*solver.Limits) {},
		"no cadmium":       func(l *solver.Limits) { l.Avoid = []string{"cadmium"} },
		"no toxic pigment": func(l *solver.Limits) { l.Avoid = []string{"toxic"} },
		"six for travel":   func(l *solver.Limits) { l.MaxTubes = 6 },
		"one tube fewer":   func(l *solver.Limits) { l.MaxTubes = stands - 1 },
		"fewest in all": func(l *solver.Limits) {
			p := problemWithBox(&sc, all)
			p.Limits.FewestToBuy = false
			smallest, err := solver.Choose(t.Context(), p, nil)
			if err != nil {
				t.Fatal(err)
			}
			l.MaxTubes = len(smallest.Palettes[0].Tubes)
		},
		"only my box": func(l *solver.Limits) {
			for _, tube := range all.Tubes() {
				if tube.Have {
					l.Only = append(l.Only, tube.ID)
				}
			}
		},
	}
	for _, c := range got.Columns {
		p := problemWithBox(&sc, all)
		byHand[c.Words](&p.Limits)
		want, err := solver.Choose(t.Context(), p, nil)
		if err != nil {
			t.Fatal(err)
		}
		best := want.Palettes[0]
		if stands == 0 {
			stands = len(best.Tubes)
		}
		reached := 0
		for _, o := range best.Targets {
			if o.Reached {
				reached++
			}
		}
		if c.Wrong != "" || !slices.Equal(c.Tubes, best.Tubes) || c.Reached != reached || c.Of != len(best.Targets) || math.Round(100*c.Price) != float64(best.Price) || c.Buy != len(best.Buy) {
			t.Errorf("%+v\nchosen: %v, %d reached, %d, to buy %v", c, best.Tubes, reached, best.Price, best.Buy)
		}
		session, err := solver.NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		holds, err := session.Share(t.Context(), []solver.Palette{best}, solver.UsualDraws)
		if err != nil || c.Holds != holds[0] || c.Draws != solver.UsualDraws {
			t.Errorf("%s: holds in %d of %d, not %v (%v)", c.Words, c.Holds, c.Draws, holds, err)
		}
		if c.Same != (c.Words != asItStands && slices.Equal(c.Tubes, got.Columns[0].Tubes)) {
			t.Errorf("%s: the same: %t", c.Words, c.Same)
		}
	}
	last := math.Inf(1)
	for _, row := range got.Rows {
		if len(row.Cells) != len(got.Columns) {
			t.Fatalf("%+v", row)
		}
		least, most := math.Inf(1), 0.0
		for _, cell := range row.Cells {
			least, most = min(least, cell.DE), max(most, cell.DE)
		}
		const rounded = 0.02
		if most-least > last+rounded {
			t.Errorf("%s differs by %.2f, below one that differs by %.2f", row.Name, most-least, last)
		}
		last = most - least
	}
	if len(got.Rows) == 0 {
		t.Error("nothing differs")
	}
	// What a column offers to take is what it was asked under.
	if l := got.Columns[1].Limits; !slices.Equal(l.Avoid, []string{"cadmium"}) {
		t.Errorf("%+v", l)
	}
}

// A column that cannot be had says why, and the others stand.
func TestBesideSaysWhatIsWrong(t *testing.T) {
	server, _, _ := boxed(t)
	one := strings.Replace(strings.TrimSuffix(marshScene, "}"), `"limits": {}`, `"limits": {"keep": ["cadmium-lemon"]}`, 1)
	_, _, text := send(t, server, "POST", "/beside", []byte(one+`, "columns": ["no cadmium", "only my box"]}`), nil)
	got, _ := askBeside(t, text)
	if len(got.Columns) != 3 || got.Columns[0].Wrong != "" || got.Columns[0].Draws == 0 || !strings.Contains(got.Columns[1].Wrong, "cadmium") || !strings.Contains(got.Columns[2].Wrong, "box is empty") {
		t.Errorf("%.1000s", text)
	}
	for _, columns := range []string{`["else"]`, `["no cadmium", "no cadmium"]`, fmt.Sprintf(`[%s"no cadmium"]`, strings.Repeat(`"no cadmium",`, 1000)), `[1]`} {
		status, _, text := send(t, server, "POST", "/beside", []byte(one+`, "columns": `+columns+`}`), nil)
		if status != 400 || len(text) == 0 || strings.Contains(string(text), "\n") {
			t.Errorf("%.40s: %d %.200q", columns, status, text)
		}
	}
}
