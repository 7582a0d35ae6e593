// Package piles holds the documents of a pile of paint: the recipes for a colour, what a
// pile looks like, and what to add to one.
package piles

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

const schemaMix = "fewtubes mix 1"

// Mixes is the document of mix: the recipes for one colour.
type Mixes struct {
	Schema string     `json:"schema"`
	Wanted shown.Look `json:"wanted"`
	shown.Sight
	PaintsPerMix int              `json:"paints_per_mix"`
	Tolerance    shown.Hundredths `json:"tolerance"`
	Palette      []string         `json:"palette"`
	Nearest      FreeMix          `json:"nearest"`
	Recipes      []MixRecipe      `json:"recipes"`
	MunsellNote  string           `json:"munsell_note,omitempty"`
	Tubes        []tubelist.Line  `json:"tubes"`
	noBase       bool             // of those given serves
	table        *mixing.Table
	used         tubelist.List
}

// FreeMix is a mix measured out freely.
type FreeMix struct {
	Shares shown.Shares     `json:"shares"`
	Lab    shown.Lab        `json:"lab"`
	DE     shown.Hundredths `json:"de"`
}

// MixRecipe is one recipe in whole parts; lab and de are of these parts.
type MixRecipe struct {
	Parts      Amounts          `json:"parts"`
	Shares     shown.Shares     `json:"shares"` // the same as fractions of the whole
	shown.Look                  // of the parts
	DE         shown.Hundredths `json:"de"`
	Direction  string           `json:"direction"` // how the parts miss the colour
	FreeDE     shown.Hundredths `json:"free_de"`   // of the mix the parts round
	Order      string           `json:"order"`     // of mixing, in words
	FromBase   *MixBase         `json:"from_base,omitempty"`
	LetDown    *MixLetDown      `json:"let_down,omitempty"`
	byHand     *hand.Recipe     // nil: the nearest parts
}

// MixLetDown is the recipe to take where whole parts lose too much.
type MixLetDown struct {
	LetDown
	Direction string `json:"direction"`
	Order     string `json:"order"`
	look      shown.Look
}

// NewMixes builds the document of recipes found on a table.
func NewMixes(t *mixing.Table, found mixing.Recipes, tolerance float64, munsell bool) *Mixes {
	m := &Mixes{
		Schema: schemaMix, Wanted: shown.NewLook(found.Target, munsell), Sight: shown.SightOf(t.Light, t.Surface), PaintsPerMix: t.PaintsPerMix, Tolerance: shown.Nearest(tolerance),
		Palette: tubelist.List(t.Tubes).IDs(), Nearest: freeMix(found.Nearest), Recipes: []MixRecipe{},
		table: t, used: t.Used(found.IDs()...), noBase: found.NoBase,
	}
	for _, r := range found.List {
		m.Recipes = append(m.Recipes, mixRecipe(t, found.Target, r, munsell))
	}
	if munsell {
		m.MunsellNote = shown.MunsellNote(m.Light)
	}
	m.Tubes = m.used.Lines()
	return m
}

func freeMix(f mixing.Free) FreeMix {
	return FreeMix{f.Shares, shown.LabOf(f.Lab), shown.Nearest(f.DE)}
}

func mixRecipe(t *mixing.Table, target colour.Lab, r mixing.Recipe, munsell bool) MixRecipe {
	name := tubelist.List(t.Tubes).Name
	out := MixRecipe{
		Parts: ByParts(r.Parts), Look: shown.NewLook(r.Lab, munsell), DE: shown.Nearest(r.DE),
		Direction: direction(r.Lab, target), FreeDE: shown.Nearest(r.Free.DE),
	}
	total := 0.0
	names := make([]string, len(r.Parts))
	for i, p := range r.Parts {
		names[i] = name(p.ID)
		total += float64(p.Parts)
	}
	if r.Hand != nil && !r.Hand.Own {
		out.Parts, total = nil, 0
		for _, p := range r.Hand.Parts {
			out.Parts = append(out.Parts, mixing.Amount{ID: p.Tube, Parts: p.Parts()})
			total += p.Parts()
		}
		if r.Hand.FromBase() != nil {
			out.Parts, total = partsOf(r.Hand), 1
		}
	}
	for _, p := range out.Parts {
		out.Shares = append(out.Shares, solver.Share{ID: p.ID, Fraction: p.Parts / total})
	}
	out.Order = orderSentence(names, r.Pulls[len(r.Pulls)-1])
	if r.Hand != nil {
		out.takeHand(r.Hand, target, munsell, name)
	}
	if r.LetDown != nil {
		out.LetDown = &MixLetDown{
			LetDown: *NewLetDown(*r.LetDown, shown.DE(r.LetDown.DE, 0, r.LetDown.DE <= 0)), Direction: direction(r.LetDown.Lab, target),
			Order: letDownSentence(r.LetDown, name) + " " + orderSentence(letDownNames(r.LetDown, name), 0),
		}
	}
	return out
}

// takeHand makes the recipe one that a hand makes; whole parts stand beside what is
// let down.
func (m *MixRecipe) takeHand(h *hand.Recipe, target colour.Lab, munsell bool, name func(string) string) {
	m.byHand = h
	if h.FromBase() != nil {
		m.takeBase(h, name)
	}
	if !h.Own {
		return
	}
	let := &MixLetDown{LetDown: *NewLetDown(*h, shown.Nearest(h.DE)), Direction: direction(h.Lab, target)}
	let.look = shown.NewLook(h.Lab, munsell)
	var first []string
	for _, p := range h.Parts {
		if p.In != "" {
			first = append(first, hand.Pile{Strong: p.Tube, Into: p.In, Ratio: p.Ratio}.Words(name))
		}
	}
	let.Order = "First let down " + strings.Join(first, "; ") + ". " + orderSentence(letDownNames(h, name), 0)
	m.LetDown = let
}

// shown is the recipe as it is to be mixed: of one that a hand makes, what is let
// down in place of whole parts.
func (m MixRecipe) shown() MixRecipe {
	if let := m.LetDown; m.byHand != nil && let != nil {
		m.Look, m.DE, m.Direction, m.Order, m.LetDown = let.look, let.DE, let.Direction, let.Order, nil
	}
	return m
}

// words are the recipe in parts.
func (m MixRecipe) words(name func(string) string) string {
	if m.byHand != nil {
		return m.byHand.Words(name)
	}
	return m.Parts.Recipe(name)
}

// ingredients are what its parts are of.
func (m MixRecipe) ingredients() (out []hand.Part) {
	if m.byHand != nil {
		return m.byHand.Parts
	}
	for _, p := range m.Parts {
		out = append(out, hand.Part{Tube: p.ID, Quarters: 4 * int(p.Parts)})
	}
	return out
}

// direction is how a mix misses its colour, in words.
func direction(mix, target colour.Lab) string { return colour.Direction(mix, target).String() }

// Verdict is the answer in one sentence.
func (m *Mixes) Verdict() string {
	if len(m.Recipes) == 0 {
		return "No recipe."
	}
	best := m.Recipes[0].leastDE()
	for _, r := range m.Recipes[1:] {
		best = min(best, r.leastDE())
	}
	out := fmt.Sprintf("%s, the nearest at ΔE00 %s, %s.", shown.Capital(countedWord(len(m.Recipes), "recipe")), best, shown.Judgement(best))
	if m.Nearest.DE >= 1 {
		out += fmt.Sprintf(" However they are measured out, these tubes come no nearer than %s: %s.",
			m.Nearest.DE, direction(m.Nearest.Lab.Colour(), m.Wanted.Lab.Colour()))
	}
	if m.noBase {
		out += noBaseNote
	}
	return out
}

func countedWord(n int, one string) string { return shown.Spelled(n) + " " + shown.Plural(n, one) }

// leastDE is that of the recipe as it is best mixed.
func (r MixRecipe) leastDE() shown.Hundredths {
	if r.LetDown != nil {
		return r.LetDown.DE
	}
	return r.DE
}

// missWords puts the difference of the parts in words.
func (r MixRecipe) missWords() string { return differenceWords(r.DE, r.Direction) }

func differenceWords(de shown.Hundredths, direction string) string {
	out := fmt.Sprintf("ΔE00 %s, %s", de, shown.Judgement(de))
	if direction != string(colour.AboutRight) {
		out += ": " + direction
	}
	return out
}

// LossSentence says what whole parts cost, where that is much.
func (r MixRecipe) LossSentence() string {
	return fmt.Sprintf("Whole parts are too coarse here: measured freely this mix comes to ΔE00 %s.", r.FreeDE)
}
