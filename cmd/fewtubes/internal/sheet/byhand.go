package sheet

import (
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/solver"
)

// longRecipe is the length above which a recipe gets a line more.
const longRecipe = 80

// mixByHand is the mix of a recipe that a hand makes.
func mixByHand(tubes map[string]catalog.Tube, t *solver.Target, r *hand.Recipe) Mix {
	m := Mix{
		Name: t.Name, Target: printed(t.Lab), Mixed: printed(r.Lab), DE: r.DE, Reached: r.Within,
		Recipe: r.Words(func(id string) string { return catalog.InSentence(tubes[id].Name) }),
		byHand: true, own: r.Own,
	}
	if b := r.FromBase(); b != nil {
		m.base = b.Short()
	}
	m.LetDown = len(m.Recipe) > longRecipe
	if !m.Reached {
		m.Words = missWords(m.DE, r.Lab, t.Lab)
	}
	return m
}

// prepare puts what is let down for all mixes first in the order of work.
func (h *Handout) prepare(plan *hand.Plan) {
	var words []string
	for _, b := range plan.Bases {
		words = append(words, b.Short()+" of "+b.Of.Words(h.inSentence))
	}
	for _, p := range plan.Prepared {
		words = append(words, p.Words(h.inSentence))
	}
	if len(words) > 0 {
		h.Order = slices.Insert(h.Order, 0, "Prepare first: "+strings.Join(words, "; ")+".")
	}
	if slices.ContainsFunc(plan.Recipes, func(r hand.Recipe) bool { return r.Touches() }) {
		h.Order = append(h.Order, "A touch is what clings to the tip of the knife, about a quarter of a part.")
	}
}

// inSentence is what a sentence calls a tube of the palette.
func (h *Handout) inSentence(id string) string {
	i := slices.IndexFunc(h.Tubes, func(t catalog.Tube) bool { return t.ID == id })
	return catalog.InSentence(h.Tubes[i].Name)
}
