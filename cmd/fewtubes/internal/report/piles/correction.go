package piles

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut/colour"
)

const schemaCorrect = "fewtubes correct 1"

// Correction is the document of correct: what to add to a pile.
type Correction struct {
	Schema string `json:"schema"`
	shown.Sight
	Tolerance shown.Hundredths `json:"tolerance"`
	Have      Amounts          `json:"have"`
	Predicted shown.Look       `json:"predicted"` // the pile as it lies, by the film model
	Seen      *shown.Look      `json:"seen,omitempty"`
	Want      shown.Look       `json:"want"`
	LyingDE   shown.Hundredths `json:"lying_de"` // of the pile as it lies

	Add        Amounts          `json:"add"`   // in the order to add them
	Added      shown.Hundredths `json:"added"` // volume added to one volume of the pile
	shown.Look                  // after the addition
	DE         shown.Hundredths `json:"de"`
	Direction  string           `json:"direction"`
	Reached    bool             `json:"reached"`

	Ways []Way `json:"ways,omitempty"` // to mend it by the measures of a hand: the addition above is one of them

	Afresh      bool            `json:"afresh"`          // a new pile wastes less paint
	Fresh       *MixRecipe      `json:"fresh,omitempty"` // the new pile, where it wastes less or the addition misses
	MunsellNote string          `json:"munsell_note,omitempty"`
	Tubes       []tubelist.Line `json:"tubes"`

	lyingWords string
	used       tubelist.List
}

// Way is what may be added, of one paint or of two.
type Way struct {
	Add        Amounts          `json:"add"` // in the order to add them
	Added      shown.Hundredths `json:"added"`
	shown.Look                  // after the addition
	DE         shown.Hundredths `json:"de"`
	Direction  string           `json:"direction"`
	Reached    bool             `json:"reached"`

	recipe hand.Recipe
}

// NewCorrection builds the document of a correction found on a table.
func NewCorrection(t *mixing.Table, c *mixing.Correction, munsell bool) *Correction {
	used := tubelist.List(t.Used(c.IDs()...))
	out := &Correction{
		Schema: schemaCorrect, Sight: shown.SightOf(t.Light, t.Surface), Tolerance: shown.Nearest(c.Tolerance),
		Have: c.Have, Predicted: shown.NewLook(c.Predicted, munsell), Want: shown.NewLook(c.Want, munsell),
		LyingDE: shown.DE(c.LyingDE, c.Tolerance, c.LyingDE <= c.Tolerance),
		Add:     Amounts{}, Added: shown.Nearest(c.Added), Look: shown.NewLook(c.Lab, munsell),
		DE: shown.DE(c.DE, c.Tolerance, c.Reached), Direction: direction(c.Lab, c.Want), Reached: c.Reached,
		Afresh: c.Afresh, Tubes: used.Lines(), used: used,
	}
	out.Add = append(out.Add, c.Add...)
	for _, w := range c.Ways {
		out.Ways = append(out.Ways, Way{
			Add: w.Add, Added: shown.Nearest(w.Added), Look: shown.NewLook(w.Lab, munsell), DE: shown.DE(w.DE, c.Tolerance, w.Within),
			Direction: direction(w.Lab, c.Want), Reached: w.Within, recipe: w.Recipe,
		})
	}
	if c.WantsFresh() {
		fresh := mixRecipe(t, c.Want, c.Fresh, munsell)
		out.Fresh = &fresh
	}
	lying := c.Predicted
	if c.Seen != nil {
		lying = *c.Seen
		seen := shown.NewLook(lying, munsell)
		out.Seen = &seen
	}
	out.lyingWords = differenceWords(out.LyingDE, direction(lying, c.Want))
	if munsell {
		out.MunsellNote = shown.MunsellNote(out.Light)
	}
	return out
}

// SeenSentence says that the model was moved to what was seen; empty where it
// was not.
func (c *Correction) SeenSentence() string {
	if c.Seen == nil {
		return ""
	}
	is, seen := c.Predicted.Lab.Colour(), c.Seen.Lab.Colour()
	return fmt.Sprintf("Seen: %s. The film model makes it %s, ΔE00 %s away; every prediction below is moved by as much as they differ.",
		c.Seen, c.Predicted, shown.Nearest(colour.DE2000(is, seen)))
}

// Verdict says what to do.
func (c *Correction) Verdict() string {
	add, takes := len(c.Add) > 0, fmt.Sprintf("%s times as much new paint as lies there", c.Added)
	switch {
	case !add && c.Reached:
		return "The pile will do as it lies."
	case c.Afresh && c.Reached:
		return "Start afresh: to mend the pile takes " + takes + "."
	case c.Afresh && c.Added > 1:
		return "Start afresh: even " + takes + " does not reach the colour."
	case c.Afresh && !add:
		return "Start afresh: nothing that can be added brings the pile nearer, and a new one comes nearer."
	case c.Afresh:
		return "Start afresh: paint can only be added, and no addition comes as near as a new pile."
	case !add:
		return "Nothing that can be added brings the pile nearer."
	case c.Reached && c.Added > 1:
		return "Add this: it is more than lies there, but a new pile of these tubes would not come as near."
	case !c.Reached && c.DE < 1:
		return "Add this: no addition comes nearer, and what is left is not seen."
	case !c.Reached:
		return "Add this: no addition comes nearer, and a new pile would gain little or nothing."
	}
	return "Add this, and keep the pile."
}

// AddSentence is what to add, in parts of the pile.
func (c *Correction) AddSentence(name func(string) string) string {
	if len(c.Add) == 0 {
		return ""
	}
	return fmt.Sprintf("%s add %s (in all %s times what lies there).", c.toWhatLies(), c.Add.Recipe(name), c.Added)
}

// toWhatLies begins a sentence: "To the 4 parts that lie there".
func (c *Correction) toWhatLies() string {
	lies := "part that lies"
	if total := c.Have.total(); total != 1 {
		lies = plain(total) + " parts that lie"
	}
	to := "To"
	if c.Afresh {
		to = "To mend it all the same, to"
	}
	return fmt.Sprintf("%s the %s there", to, lies)
}

// WaySentences are what a hand may add, and what comes of each.
func (c *Correction) WaySentences(name func(string) string) (out []string) {
	for i, w := range c.Ways {
		start := c.toWhatLies() + " add "
		if i > 0 {
			start = "Or add "
		}
		out = append(out, fmt.Sprintf("%s%s: ΔE00 %s becomes %s.", start, w.recipe.Words(name), c.LyingDE, strings.TrimPrefix(differenceWords(w.DE, w.Direction), "ΔE00 ")))
	}
	return out
}

// touch is the part of a pile below which a paint is taken by the tip of the
// knife.
const touch = 0.02

// CareSentence says how to go about it, where it is worth it.
func (c *Correction) CareSentence(name func(string) string) string {
	if len(c.Add) == 0 || c.Afresh {
		return ""
	}
	var small []string
	for _, a := range c.Add {
		if len(c.Ways) == 0 && a.Parts < touch*c.Have.total() {
			small = append(small, name(a.ID))
		}
	}
	out := "Add half of it, mix it through, look, and only then the rest: paint can be added, never taken away."
	if len(small) > 0 {
		out += " A touch on the tip of the knife is enough of " + shown.Listed(small, "and") + "."
	}
	return out
}

// FreshSentence is the new pile; empty where there is no need of one.
func (c *Correction) FreshSentence(name func(string) string) string {
	if c.Fresh == nil {
		return ""
	}
	fresh := c.Fresh.shown()
	recipe, de, words := fresh.words(name), fresh.DE, fresh.Direction
	if let := fresh.LetDown; let != nil {
		recipe, de, words = let.Words(name), let.DE, let.Direction
	}
	return fmt.Sprintf("%s (%s).", recipe, differenceWords(de, words))
}

// Text is the correction for a terminal.
func (c *Correction) Text(s terminal.Style) string {
	id := func(id string) string { return id }
	var b strings.Builder
	para := func(text string) {
		if text != "" {
			b.WriteString(s.Wrap("", 2, text))
		}
	}
	para("Have: " + c.Have.Recipe(id) + "; " + c.Predicted.String() + " (" + c.SeenUnder() + ").")
	para(c.SeenSentence())
	para("Want: " + c.Want.String() + ", within ΔE00 " + c.Tolerance.String() + ".")
	para("As it lies: " + c.lyingWords + ".")
	b.WriteString("\n")
	para(c.Verdict())
	for _, w := range c.WaySentences(id) {
		para(w)
	}
	if len(c.Ways) == 0 {
		para(c.AddSentence(id))
	}
	if len(c.Add) > 0 && len(c.Ways) == 0 {
		para("That makes: " + c.Look.String() + "; " + differenceWords(c.DE, c.Direction) + ".")
	}
	para(c.CareSentence(id))
	if c.Fresh != nil {
		para("A new pile: " + c.FreshSentence(id))
	}
	b.WriteString(s.MunsellLine(c.MunsellNote))
	s.Close(&b, c.used.Cautions(c.used.IDs()))
	return b.String()
}
