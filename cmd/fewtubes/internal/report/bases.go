package report

import (
	"fmt"
	"math"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
)

// Base is a mix that lies ready and is varied.
type Base struct {
	ID    string        `json:"id"`
	Parts piles.Amounts `json:"parts"` // of tubes
	ML    int           `json:"ml"`    // for the picture of preparedFor, rounded up to five
	Uses  []BaseUse     `json:"uses"`  // in the order of work
	of    hand.BaseOf
}

// BaseUse is a colour made from a base.
type BaseUse struct {
	Target string   `json:"target"`
	ML     shown.ML `json:"ml"` // of the base
	recipe *hand.Recipe
}

// Handled is what is taken with the knife for all mixes: tubes and piles that lie
// ready, and the paints of these piles once.
type Handled struct {
	With    int `json:"with"`    // the bases
	Without int `json:"without"` // them
	bases   int
}

// takeBases takes the bases of a plan, and what they save.
func (p *Palette) takeBases(plan *hand.Plan) {
	if !plan.Gain.Asked {
		return
	}
	p.Handled = &Handled{plan.Gain.With, plan.Gain.Without, len(plan.Bases)}
	for _, b := range plan.Bases {
		base := Base{ID: b.ID, of: b.Of, Uses: []BaseUse{}}
		for _, part := range b.Of {
			base.Parts = append(base.Parts, mixing.Amount{ID: part.Tube, Parts: float64(part.Parts)})
		}
		if len(b.Uses) > 0 {
			base.ML = preparedML(b.Fraction)
		}
		for _, u := range b.Uses {
			base.Uses = append(base.Uses, BaseUse{p.Targets[u.Target].Name, shown.ML(preparedFor.SqueezedML() * u.Fraction), &plan.Recipes[u.Target]})
		}
		p.Bases = append(p.Bases, base)
	}
}

// preparedML is how much of a pile lies ready, for its share of the picture.
func preparedML(fraction float64) int {
	return int(max(preparedStep, math.Ceil(preparedFor.SqueezedML()*fraction/preparedStep)*preparedStep))
}

// sentence is what the bases save; empty where none were asked for.
func (h *Handled) sentence() string {
	switch {
	case h == nil:
		return ""
	case h.bases == 0:
		return fmt.Sprintf("No base was found that saves anything: mixed one by one, these colours take %d tubes and piles in hand.", h.Without)
	}
	out := fmt.Sprintf("All mixes together take %d tubes and piles in hand with the bases, %d without, the making of bases and prepared piles counted in", h.With, h.Without)
	switch {
	case h.With > h.Without:
		out += fmt.Sprintf(": the bases cost %d more", h.With-h.Without)
	case h.With == h.Without:
		out += ": the bases save nothing"
	}
	return out + "."
}

// basesHeading stands over the colours made from bases.
var basesHeading = fmt.Sprintf("From a base, in the order of work (for a picture of %.0fx%.0f cm)", preparedFor.WidthCM, preparedFor.HeightCM)

// baseGroup is a base and the colours made from it.
type baseGroup struct {
	Heading string
	Lines   []baseLine
}

type baseLine struct{ Name, Recipe, Ready string }

func (p *Palette) baseGroups(name func(string) string) (out []baseGroup) {
	for _, b := range p.Bases {
		group := baseGroup{Heading: shown.Capital(strings.ReplaceAll(b.ID, "-", " ")) + ": " + b.of.Words(name)}
		if len(b.Uses) > 0 {
			group.Heading += fmt.Sprintf(", %d ml", b.ML)
		}
		for _, u := range b.Uses {
			group.Lines = append(group.Lines, baseLine{u.Target, u.recipe.Words(name), fmt.Sprintf("%v ml of the base", u.ML)})
		}
		out = append(out, group)
	}
	return out
}

func (c *Choice) writeBases(b *strings.Builder, s terminal.Style, p Palette) {
	note := p.Handled.sentence()
	if note == "" {
		return
	}
	terminal.Heading(b, s, basesHeading)
	b.WriteString(s.Wrap("  ", 2, note))
	for _, group := range p.baseGroups(func(id string) string { return id }) {
		b.WriteString(s.Wrap("  ", 4, group.Heading))
		if len(group.Lines) == 0 {
			b.WriteString(s.Wrap("    ", 6, "no colour comes within its tolerance from it more plainly than by itself"))
		}
		width := terminal.Widest(group.Lines, func(l baseLine) string { return l.Name })
		for _, l := range group.Lines {
			b.WriteString(s.WrapAfter("    "+terminal.Pad(l.Name, width)+"  ", l.Recipe+", "+l.Ready))
		}
	}
}
