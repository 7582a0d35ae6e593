package sheet

import (
	"bytes"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
)

// A plan is one page of either paper; its steps are printed in the greys meant.
func TestValuePlanSheet(t *testing.T) {
	g := values.Grey{W: 60, H: 40}
	for i := range g.W * g.H {
		g.L = append(g.L, 20+70*float64(i)/float64(g.W*g.H))
	}
	for _, paper := range []Paper{A4, Letter} {
		for n := 2; n <= 5; n++ {
			plans := values.Alternatives(g, n)
			var want []Swatch
			for _, a := range plans {
				for _, l := range a.Plan.Levels {
					want = append(want, printed(colour.Lab{L: l}))
				}
			}
			pdf, err := NewValuePlan(strings.Repeat("A grey slope ", 12), "the picture", g, plans).PDF(paper)
			if err != nil {
				t.Fatal(err)
			}
			if pages := contents(t, pdf); len(plans) < 2 || bytes.Count(pdf, []byte("/Type /Page\n")) != 1 || len(pages) == 0 {
				t.Errorf("%d plans of %d values on %d pages", len(plans), n, bytes.Count(pdf, []byte("/Type /Page\n")))
			}
			checkPrinted(t, filled(t, pdf), want)
			checkReadable(t, pdf, paper)
		}
	}
}
