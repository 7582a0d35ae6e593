package sheet

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/solver"
)

// Lid is a card for the lid of the box: the scene in small with a numbered mark where
// each colour lies, the palette and the recipes, on one side.
type Lid struct {
	Title    string
	Pictures []Thumbnail
	Tubes    []LidTube
	Prepared []string // what to let down first
	Mixes    []LidMix // in the order of the marks, from 1
	Close    string   // cautions, in short
}

// LidTube is a tube and the short name that recipes give it.
type LidTube struct {
	Short, Facts string
	Mass         Swatch
}

// LidMix is a colour and its recipe.
type LidMix struct {
	Mix
	Out bool // out of reach of the palette, whatever the recipe
}

// NewLid works out the card of a palette found for the problem. short names its tubes.
func NewLid(ctx context.Context, title string, p *solver.Problem, palette *solver.Palette, m hand.Measures, short func(id string) string) (*Lid, error) {
	l := &Lid{Title: title}
	e := easel{p.Light, p.Surface}
	byID := map[string]catalog.Tube{}
	var mind []string
	tubes := plainNames(slices.DeleteFunc(slices.Clone(p.Tubes), func(t catalog.Tube) bool { return !slices.Contains(palette.Tubes, t.ID) }))
	for _, t := range tubes {
		l.Tubes = append(l.Tubes, LidTube{short(t.ID), t.Name + ", " + strings.Join(t.Pigments, " + "), e.swatch([]catalog.Tube{t}, []int{1})})
		if words := minded(&t); len(words) > 0 {
			mind = append(mind, short(t.ID)+" "+strings.Join(words, ", "))
		}
		t.Name = short(t.ID)
		byID[t.ID] = t
	}
	l.Close = safety
	if len(mind) > 0 {
		l.Close = upperFirst(strings.Join(mind, "; ")) + ". " + safety
	}
	if m.Exact {
		for i := range palette.Targets {
			l.Mixes = append(l.Mixes, LidMix{newMix(e, byID, &palette.Targets[i], p.Targets[i].Tolerance), !palette.Targets[i].Reached})
		}
		return l, nil
	}
	plan, err := hand.New(ctx, p, palette.Tubes, m)
	if err != nil {
		return nil, err
	}
	for i := range plan.Prepared {
		pile := &plan.Prepared[i]
		l.Prepared = append(l.Prepared, fmt.Sprintf("%s: %s", pile.Brief(short), pile.Words(short)))
	}
	for i := range plan.Recipes {
		mix := mixByHand(byID, &p.Targets[i], &plan.Recipes[i])
		mix.Recipe = plan.Recipes[i].Brief(short)
		l.Mixes = append(l.Mixes, LidMix{mix, !palette.Targets[i].Reached})
	}
	return l, nil
}
