package report

import (
	"strings"
)

// mixesPage is the recipes with the colours a browser needs.
type mixesPage struct {
	*Mixes
	Heading     string
	PaintsWords string
	From        string
	Rows        []mixRow
	CautionList []Caution
}

// mixRow is a recipe beside the colour wanted.
type mixRow struct {
	MixRecipe
	swatchPair
	No, Recipe, Miss string
	Blocks           []partBlocks
	OffScreen        bool
	Let              *letRow
}

type letRow struct {
	swatchPair
	No, Recipe, Miss string
	DE               Hundredths
	Order            string
	Blocks           []partBlocks
}

// HTML is the recipes as one printable page.
func (m *Mixes) HTML() ([]byte, error) { return render("mixes.html", m.page()) }

// Fragment is the body of HTML, for a page around it.
func (m *Mixes) Fragment() ([]byte, error) { return renderFragment("mixes.html", m.page()) }

func (m *Mixes) page() mixesPage {
	p := mixesPage{
		Mixes: m, Heading: capital(m.Wanted.Words), PaintsWords: counted(m.PaintsPerMix, "paint"),
		From:        listed(tubeList(m.table.Tubes).names(m.Palette), "and"),
		CautionList: m.used.cautions(m.used.ids()),
	}
	for i, r := range m.Recipes {
		p.Rows = append(p.Rows, m.row(i, r))
	}
	return p
}

func (m *Mixes) row(i int, r MixRecipe) mixRow {
	name := tubeList(m.table.Tubes).name
	no := string(rune('1' + i))
	r = r.shown()
	out := mixRow{
		MixRecipe: r, swatchPair: pairOf(m.Wanted.Lab, r.Lab), No: no, Recipe: r.words(name),
		Miss: afterDE(r.missWords()), OffScreen: offScreen(m.Wanted.Lab) || offScreen(r.Lab),
	}
	for _, p := range r.ingredients() {
		out.Blocks = append(out.Blocks, m.blocks(p))
	}
	if let := r.LetDown; let != nil {
		out.Let = &letRow{
			swatchPair: pairOf(m.Wanted.Lab, let.Lab), No: no + ", let down", Recipe: let.Words(name),
			Miss: afterDE(differenceWords(let.DE, let.Direction)), DE: let.DE, Order: let.Order,
		}
		for _, pile := range let.Piles {
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
func (m *Mixes) blocks(p Pile) partBlocks {
	paint := p.paint(m.used)
	seen := paint.Masstone(m.table.Surface)
	return blocksOf(Hex(m.table.Light.Lab(&seen)), p.Parts)
}
