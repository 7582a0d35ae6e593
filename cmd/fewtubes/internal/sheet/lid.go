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
	tubes := plainNames(slices.DeleteFunc(slices.Clone(p.Tubes), func(t catalog.Tube) bool { return !slices.Contains(palette.Tubes, t.ID) }))
	for _, t := range tubes {
		l.Tubes = append(l.Tubes, LidTube{short(t.ID), t.Name + ", " + strings.Join(t.Pigments, " + "), e.swatch([]catalog.Tube{t}, []int{1})})
		t.Name = short(t.ID)
		byID[t.ID] = t
	}
	l.Close = closing(tubes, short)
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

// closing is what to mind of tubes, in short.
func closing(tubes []catalog.Tube, short func(id string) string) string {
	var mind []string
	for i := range tubes {
		if words := minded(&tubes[i]); len(words) > 0 {
			mind = append(mind, short(tubes[i].ID)+" "+strings.Join(words, ", "))
		}
	}
	if len(mind) == 0 {
		return safety
	}
	return upperFirst(strings.Join(mind, "; ")) + ". " + safety
}
