package report

import (
	"fmt"

	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

const schemaMix = "fewtubes mix 1"

// Mixes is the document of mix: the recipes for one colour.
type Mixes struct {
	Schema string `json:"schema"`
	Wanted Look   `json:"wanted"`
	Sight
	PaintsPerMix int         `json:"paints_per_mix"`
	Palette      []string    `json:"palette"`
	Nearest      FreeMix     `json:"nearest"`
	Recipes      []MixRecipe `json:"recipes"`
	MunsellNote  string      `json:"munsell_note,omitempty"`
	Tubes        []TubeLine  `json:"tubes"`
	table        *mixing.Table
	used         tubeList
}

// FreeMix is a mix measured out freely.
type FreeMix struct {
	Shares Shares     `json:"shares"`
	Lab    Lab        `json:"lab"`
	DE     Hundredths `json:"de"`
}

// MixRecipe is one recipe in whole parts; lab and de are of these parts.
type MixRecipe struct {
	Parts     Parts       `json:"parts"`
	Shares    Shares      `json:"shares"` // the same as fractions of the whole
	Look                  // of the parts
	DE        Hundredths  `json:"de"`
	Direction string      `json:"direction"` // how the parts miss the colour
	FreeDE    Hundredths  `json:"free_de"`   // of the mix the parts round
	Order     string      `json:"order"`     // of mixing, in words
	LetDown   *MixLetDown `json:"let_down,omitempty"`
}

// MixLetDown is the recipe to take where whole parts lose too much.
type MixLetDown struct {
	LetDown
	Direction string `json:"direction"`
	Order     string `json:"order"`
}

// NewMixes builds the document of recipes found on a table.
func NewMixes(t *mixing.Table, found mixing.Recipes, munsell bool) *Mixes {
	m := &Mixes{
		Schema: schemaMix, Wanted: newLook(found.Target, munsell), Sight: sightOf(t.Light, t.Surface), PaintsPerMix: t.PaintsPerMix,
		Palette: tubeList(t.Tubes).ids(), Nearest: freeMix(found.Nearest), Recipes: []MixRecipe{},
		table: t, used: t.Used(found.IDs()...),
	}
	for _, r := range found.List {
		m.Recipes = append(m.Recipes, mixRecipe(t, found.Target, r, munsell))
	}
	if munsell {
		m.MunsellNote = munsellNote(m.Light)
	}
	m.Tubes = m.used.lines()
	return m
}

func freeMix(f mixing.Free) FreeMix {
	return FreeMix{f.Shares, shownLab(f.Lab), nearestHundredth(f.DE)}
}

func mixRecipe(t *mixing.Table, target colour.Lab, r mixing.Recipe, munsell bool) MixRecipe {
	name := tubeList(t.Tubes).name
	out := MixRecipe{
		Parts: byParts(r.Parts), Look: newLook(r.Lab, munsell), DE: nearestHundredth(r.DE),
		Direction: direction(r.Lab, target), FreeDE: nearestHundredth(r.Free.DE),
	}
	total := 0
	names := make([]string, len(r.Parts))
	for i, p := range r.Parts {
		names[i] = name(p.ID)
		total += p.Parts
	}
	for _, p := range out.Parts {
		out.Shares = append(out.Shares, solver.Share{ID: p.ID, Fraction: float64(p.Parts) / float64(total)})
	}
	out.Order = orderSentence(names, r.Pulls[len(r.Pulls)-1])
	if r.LetDown != nil {
		out.LetDown = &MixLetDown{
			LetDown: *newLetDown(*r.LetDown, 0), Direction: direction(r.LetDown.Lab, target),
			Order: letDownSentence(r.LetDown, name) + " " + orderSentence(letDownNames(r.LetDown, name), 0),
		}
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
	out := fmt.Sprintf("%s, the nearest at ΔE00 %s, %s.", capital(countedWord(len(m.Recipes), "recipe")), best, Judgement(best))
	if m.Nearest.DE >= 1 {
		out += fmt.Sprintf(" However they are measured out, these tubes come no nearer than %s: %s.",
			m.Nearest.DE, direction(m.Nearest.Lab.Colour(), m.Wanted.Lab.Colour()))
	}
	return out
}

func countedWord(n int, one string) string { return spelled(n) + " " + plural(n, one) }

// leastDE is that of the recipe as it is best mixed.
func (r MixRecipe) leastDE() Hundredths {
	if r.LetDown != nil {
		return r.LetDown.DE
	}
	return r.DE
}

// missWords puts the difference of the parts in words.
func (r MixRecipe) missWords() string { return differenceWords(r.DE, r.Direction) }

func differenceWords(de Hundredths, direction string) string {
	out := fmt.Sprintf("ΔE00 %s, %s", de, Judgement(de))
	if direction != string(colour.AboutRight) {
		out += ": " + direction
	}
	return out
}

// LossSentence says what whole parts cost, where that is much.
func (r MixRecipe) LossSentence() string {
	return fmt.Sprintf("Whole parts are too coarse here: measured freely this mix comes to ΔE00 %s.", r.FreeDE)
}
