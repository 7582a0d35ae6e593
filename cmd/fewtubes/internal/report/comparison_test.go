package report

import (
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/solver"
)

func fixtureComparison(t *testing.T) *Comparison {
	p := fixtureProblem()
	session, err := solver.NewSession(*p)
	if err != nil {
		t.Fatal(err)
	}
	compared, err := session.Compare(t.Context(), []solver.Named{
		{Name: "all five", Palette: fixturePalette(p, 0, 1, 2, 3, 4)},
		{Name: "no cadmium", Palette: fixturePalette(p, 0, 2, 3, 4)},
	})
	if err != nil {
		t.Fatal(err)
	}
	// The mixes of the fixture are the nearest of a coarse grid: recipes by hand come nearer.
	return NewComparison(Scene{Title: "Salt marsh at ebb tide", Tolerance: 6, Measures: hand.Measures{Exact: true}}, p, compared)
}

func TestComparisonKeys(t *testing.T) {
	var doc struct {
		Palettes []map[string]any
	}
	decode(t, fixtureComparison(t), &doc)
	for _, key := range []string{"name", "tubes", "price", "reached", "area_reached", "worst_de", "mean_de", "greens_worst_de"} {
		if _, ok := doc.Palettes[0][key]; !ok {
			t.Errorf("no %q", key)
		}
	}
}

// Reached areas, greens and differences follow from the rows.
func TestComparisonAddsUp(t *testing.T) {
	c := fixtureComparison(t)
	p := fixtureProblem()
	for _, q := range c.Palettes {
		reached, area, green := 0, 0.0, shown.Hundredths(0)
		for i, row := range q.Targets {
			if row.DE <= row.Tolerance {
				reached++
				area += p.Targets[i].Area // the areas of the fixture sum to 1
			}
			if row.Name == "samphire" || row.Name == "far saltings <&>" {
				green = max(green, row.DE)
			}
		}
		if q.Reached != reached || shown.Digits(float64(q.AreaReached), 4) != shown.Digits(area, 4) || q.GreensWorstDE != green {
			t.Errorf("%s: reached %d of area %v, greens %s; the rows give %d, %v, %s", q.Name, q.Reached, q.AreaReached, q.GreensWorstDE, reached, area, green)
		}
	}
	if len(c.Differ) == 0 || c.Differ[0].Target != "samphire" {
		t.Errorf("without its yellow the second palette loses samphire first: %+v", c.Differ)
	}
}

func TestComparisonSameNumbers(t *testing.T) {
	c := fixtureComparison(t)
	page, err := c.HTML()
	if err != nil {
		t.Fatal(err)
	}
	text := c.Text(terminal.Style{Width: 100})
	for _, trait := range c.Traits() {
		for _, cell := range trait.Cells {
			if !strings.Contains(text, cell) || !strings.Contains(string(page), cell) {
				t.Errorf("%s %q is not everywhere", trait.Name, cell)
			}
		}
	}
	for _, d := range c.Differ {
		for _, m := range d.Mixes {
			if !strings.Contains(text, m.DE.String()) || !strings.Contains(string(page), m.DE.String()) {
				t.Errorf("%s %s is not everywhere", d.Target, m.DE)
			}
		}
	}
}
