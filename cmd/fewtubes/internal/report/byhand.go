package report

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/packing"
	"fewtubes/cmd/fewtubes/internal/report/piles"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// Prepared is a tube that is let down once for all mixes of a palette.
type Prepared struct {
	ID     string `json:"id"`
	Strong string `json:"strong"`
	Into   string `json:"into"`
	Ratio  int    `json:"ratio"` // parts of Into to one of Strong
	ML     int    `json:"ml"`    // for the picture of preparedFor, rounded up to five
	Uses   int    `json:"uses"`  // mixes that take it

	pile *hand.Pile
}

// preparedFor is the picture that amounts are told for where none is known: of a
// size often carried outdoors, painted as pack supposes (common practice, no source).
var preparedFor = packing.Job{WidthCM: 30, HeightCM: 40, Coats: packing.DefaultCoats, FilmMM: packing.DefaultFilmMM, Waste: packing.DefaultWaste}

// preparedStep is what their ml are rounded up to: of less one part in eleven is
// not measured.
const preparedStep = 5

// byHand gives a palette the recipes a hand makes, or the nearest in parts where
// those are asked for.
func (c *Choice) byHand(p *Palette) {
	if c.measures.Exact {
		c.letDown(p)
		return
	}
	plan, err := hand.New(leaving{context.Background(), c.left}, c.problem, p.Tubes, c.measures)
	if err != nil { // whoever asked has gone: a session has accepted the tubes before
		return
	}
	for i := range plan.Prepared {
		pile := &plan.Prepared[i]
		p.Prepared = append(p.Prepared, Prepared{pile.ID, pile.Strong, pile.Into, pile.Ratio, preparedML(pile.Fraction), pile.Uses, pile})
	}
	p.takeBases(plan)
	for i := range plan.Recipes {
		p.Targets[i].take(&plan.Recipes[i])
	}
}

// leaving is a context that ends when whoever asked goes.
type leaving struct {
	context.Context
	left func() bool
}

func (l leaving) Err() error {
	if l.left() {
		return context.Canceled
	}
	return nil
}

// take makes a recipe that of the target.
func (t *Target) take(r *hand.Recipe) {
	t.byHand = r
	tolerance := float64(t.Tolerance)
	de := shown.DE(r.DE, tolerance, r.DE <= tolerance)
	if t.Reached && de < t.DE { // whatever it stands for, it is a mix of these tubes
		t.MixLab, t.DE, t.Shares = shown.LabOf(r.Lab), de, r.Shares()
	}
	if r.Own {
		t.LetDown = piles.NewLetDown(*r, de)
		return
	}
	t.Parts, t.PartsDE = nil, de
	for _, p := range r.Parts {
		t.Parts = append(t.Parts, mixing.Amount{ID: p.ID(), Parts: p.Parts()})
	}
}

// mixed is the colour of the recipe, where that is known, else of the nearest mix.
func (t Target) mixed() shown.Lab {
	switch {
	case t.LetDown != nil:
		return t.LetDown.Lab
	case t.byHand != nil:
		return shown.LabOf(t.byHand.Lab)
	}
	return t.MixLab
}

// Notes that stand beside recipes, where they are wanted.
const (
	touchNote = "A touch is what clings to the tip of the knife: about a quarter of a part, taken little by little."
	ownNote   = "Where a recipe says 1:10 or the like of a paint that is not prepared, let the strong paint down for that mix first: one part of it in ten of the paint named."
)

// recipeNote says how the recipes of a palette are read.
func recipeNote(p *Palette) string {
	var touches, own, exact bool
	for _, t := range p.Targets {
		exact = exact || t.byHand == nil && t.LetDown != nil
		if t.byHand != nil {
			touches = touches || t.byHand.Touches()
			own = own || t.byHand.Own
		}
	}
	var out []string
	if touches {
		out = append(out, touchNote)
	}
	if own {
		out = append(out, ownNote)
	}
	if exact {
		out = append(out, piles.LetDownNote)
	}
	return strings.Join(out, " ")
}

// sentence is what to prepare: "1 phthalo blue in 10 titanium white, 12 ml; 7 mixes
// use it".
func (p Prepared) sentence(name func(id string) string) string {
	words := hand.Pile{Strong: p.Strong, Into: p.Into, Ratio: p.Ratio}.Words(name)
	if p.Uses == 1 {
		return fmt.Sprintf("%s, %d ml; one mix uses it", words, p.ML)
	}
	return fmt.Sprintf("%s, %d ml; %d mixes use it", words, p.ML, p.Uses)
}

// preparedHeading stands over what to prepare.
var preparedHeading = fmt.Sprintf("Prepare first (for a picture of %.0fx%.0f cm)", preparedFor.WidthCM, preparedFor.HeightCM)

// piles are the ingredients of the recipe shown, largest part first.
func (t Target) piles() []hand.Part {
	if t.byHand != nil {
		return t.byHand.Parts
	}
	var out []hand.Part
	for _, p := range t.Parts {
		out = append(out, hand.Part{Tube: p.ID, Quarters: 4 * int(p.Parts)})
	}
	if t.LetDown != nil {
		out = t.LetDown.Parts()
	}
	slices.SortStableFunc(out, func(a, b hand.Part) int { return b.Quarters - a.Quarters })
	return out
}
