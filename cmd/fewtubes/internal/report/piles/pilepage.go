package piles

import (
	"fmt"

	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// pilePage is a pile with the colours a browser needs.
type pilePage struct {
	*PileLook
	Heading, Lede string
	LadderHeading string
	Steps         []pileStep
	CautionList   []shown.Caution
}

type pileStep struct{ Hex, Label string }

// HTML is the pile as one printable page.
func (p *PileLook) HTML() ([]byte, error) { return printable.Render("pile.html", p.page()) }

// Fragment is the body of HTML, for a page around it.
func (p *PileLook) Fragment() ([]byte, error) { return printable.Fragment("pile.html", p.page()) }

func (p *PileLook) page() pilePage {
	out := pilePage{
		PileLook: p, Heading: p.Parts.Recipe(p.used.Name), Lede: shown.Capital(p.Words),
		Steps:       []pileStep{{shown.Hex(p.Lab.Colour()), "0"}},
		CautionList: p.used.Cautions(p.used.IDs()),
	}
	if len(p.Ladder) > 0 {
		out.LadderHeading = p.ladderHeading()
	}
	for _, t := range p.Ladder {
		out.Steps = append(out.Steps, pileStep{shown.Hex(t.Lab.Colour()), fmt.Sprintf("%g", t.White)})
	}
	return out
}
