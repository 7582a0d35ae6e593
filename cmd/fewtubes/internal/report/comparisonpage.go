package report

import (
	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// comparisonPage is the document with the colours a browser needs.
type comparisonPage struct {
	*Comparison
	Asked       []string
	Boards      []board
	Rows        []comparisonRow
	CautionList []shown.Caution
}

// board is one palette as a strip of swatches.
type board struct {
	Compared
	Letter string
	Tubes  []TubeSwatch
}

type comparisonRow struct {
	Difference
	TargetHex string
	Mixes     []comparisonMix
}

type comparisonMix struct {
	Target
	Letter, MixHex, Word, Recipe string
}

// HTML is the comparison as one printable page.
func (c *Comparison) HTML() ([]byte, error) { return printable.Render("comparison.html", c.page()) }

// Fragment is the body of HTML, as Choice.Fragment.
func (c *Comparison) Fragment() ([]byte, error) {
	return printable.Fragment("comparison.html", c.page())
}

func (c *Comparison) page() comparisonPage {
	p := comparisonPage{Comparison: c, Asked: c.choice.asked(), CautionList: c.cautions()}
	letter := func(i int) string { return string(rune('A' + i%26)) }
	for i, q := range c.Palettes {
		p.Boards = append(p.Boards, board{q, letter(i), c.choice.Swatches(q.Tubes)})
	}
	for _, d := range c.Differ {
		row := comparisonRow{Difference: d, TargetHex: shown.Hex(d.Mixes[0].Lab.Colour())}
		for i, m := range d.Mixes {
			row.Mixes = append(row.Mixes, comparisonMix{m, letter(i), shown.Hex(m.MixLab.Colour()), shown.Judgement(m.DE), m.recipe(c.choice.name)})
		}
		p.Rows = append(p.Rows, row)
	}
	return p
}
