package piles

import (
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
)

// mixesPage is the recipes with the colours a browser needs.
type mixesPage struct {
	*Mixes
	Heading     string
	PaintsWords string
	From        string
	Rows        []mixRow
	CautionList []shown.Caution
}

// mixRow is a recipe beside the colour wanted.
type mixRow struct {
	MixRecipe
	printable.Pair
	No, Recipe, Miss string
	Blocks           []printable.Blocks
	OffScreen        bool
	Let              *letRow
}

type letRow struct {
	printable.Pair
	No, Recipe, Miss string
	DE               shown.Hundredths
	Order            string
	Blocks           []printable.Blocks
}

// HTML is the recipes as one printable page.
func (m *Mixes) HTML() ([]byte, error) { return printable.Render("mixes.html", m.page()) }

// Fragment is the body of HTML, for a page around it.
func (m *Mixes) Fragment() ([]byte, error) { return printable.Fragment("mixes.html", m.page()) }

func (m *Mixes) page() mixesPage {
	p := mixesPage{
		Mixes: m, Heading: shown.Capital(m.Wanted.Words), PaintsWords: shown.Counted(m.PaintsPerMix, "paint"),
		From:        shown.Listed(tubelist.List(m.table.Tubes).Names(m.Palette), "and"),
		CautionList: m.used.Cautions(m.used.IDs()),
	}
	for i, r := range m.Recipes {
		p.Rows = append(p.Rows, m.row(i, r))
	}
	return p
}

func (m *Mixes) row(i int, r MixRecipe) mixRow {
	name := tubelist.List(m.table.Tubes).Name
	no := string(rune('1' + i))
	r = r.shown()
	out := mixRow{
		MixRecipe: r, Pair: printable.PairOf(m.Wanted.Lab, r.Lab), No: no, Recipe: r.words(name),
		Miss: afterDE(r.missWords()), OffScreen: printable.OffScreen(m.Wanted.Lab) || printable.OffScreen(r.Lab),
	}
	for _, p := range r.ingredients() {
		out.Blocks = append(out.Blocks, m.blocks(p))
	}
	if let := r.LetDown; let != nil {
		out.Let = &letRow{
			Pair: printable.PairOf(m.Wanted.Lab, let.Lab), No: no + ", let down", Recipe: let.Words(name),
			Miss: afterDE(differenceWords(let.DE, let.Direction)), DE: let.DE, Order: let.Order,
		}
		for _, pile := range let.recipe.Parts {
			out.Let.Blocks = append(out.Let.Blocks, m.blocks(pile))
		}
	}
	return out
}

// afterDE drops the figure from differenceWords, where it is shown by itself.
func afterDE(words string) string {
	_, out, _ := strings.Cut(words, ", ")
	return out
}

// blocks are the parts of one ingredient in its own colour.
func (m *Mixes) blocks(p hand.Part) printable.Blocks {
	paint := p.Paint(m.used.Tube)
	seen := paint.Masstone(m.table.Surface)
	return printable.BlocksOf(shown.Hex(m.table.Light.Lab(&seen)), p.Parts())
}
