package piles

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/cmd/fewtubes/internal/mixing"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
)

const schemaValueString = "fewtubes value string 1"

// ValueString is the document of mix --string: one hue over steps of value.
type ValueString struct {
	Schema string     `json:"schema"`
	Wanted shown.Look `json:"wanted"`
	shown.Sight
	PaintsPerMix int              `json:"paints_per_mix"`
	Tolerance    shown.Hundredths `json:"tolerance"`
	Palette      []string         `json:"palette"`
	Values       []shown.Tenths   `json:"values"` // L*/10, ascending
	Start        StringStart      `json:"start"`
	Steps        []StringStep     `json:"steps"` // in the order of work: the lighter, then the darker
	MunsellNote  string           `json:"munsell_note,omitempty"`
	Tubes        []tubelist.Line  `json:"tubes"`
	table        *mixing.Table
	used         tubelist.List
	lighter      int // of the steps
	no           int // of the mix that has the colour wanted
}

// StringStart is the recipe that a string begins with.
type StringStart struct {
	No      int  `json:"no"`
	Reached bool `json:"reached"`
	MixRecipe
	goal shown.Lab
}

// StringStep is a mix of a string: so many parts of the mix before and one addition.
type StringStep struct {
	No     int          `json:"no"` // 1 is the darkest
	From   int          `json:"from"`
	Take   int          `json:"take"` // parts of that mix
	Add    Amounts      `json:"add"`
	Shares shown.Shares `json:"shares"`
	shown.Look
	Goal      shown.Lab        `json:"goal"`
	DE        shown.Hundredths `json:"de"` // to the goal
	Direction string           `json:"direction"`
	Reached   bool             `json:"reached"`
	made      *hand.Step
}

// NewValueString builds the document of a string found on a table.
func NewValueString(t *mixing.Table, found *mixing.ValueString, tolerance float64, munsell bool) *ValueString {
	out := &ValueString{
		Schema: schemaValueString, Wanted: shown.NewLook(found.Target, munsell), Sight: shown.SightOf(t.Light, t.Surface), PaintsPerMix: t.PaintsPerMix,
		Tolerance: shown.Nearest(tolerance), Palette: tubelist.List(t.Tubes).IDs(), Steps: []StringStep{},
		table: t, used: t.Used(found.IDs()...), lighter: len(found.Lighter),
	}
	for i, l := range found.Values {
		if out.Values = append(out.Values, shown.Tenths(l/10)); l == found.Target.L {
			out.no = i + 1
		}
	}
	out.Start = StringStart{found.At + 1, found.Within, mixRecipe(t, found.Goal, found.Start, munsell), shown.LabOf(found.Goal)}
	for i := range found.Lighter {
		out.Steps = append(out.Steps, stringStep(found.At+2+i, found.At+1+i, &found.Lighter[i], tolerance, munsell))
	}
	for i := range found.Darker {
		out.Steps = append(out.Steps, stringStep(found.At-i, found.At+1-i, &found.Darker[i], tolerance, munsell))
	}
	if munsell {
		out.MunsellNote = shown.MunsellNote(out.Light)
	}
	out.Tubes = out.used.Lines()
	return out
}

func stringStep(no, from int, s *hand.Step, tolerance float64, munsell bool) StringStep {
	return StringStep{
		No: no, From: from, Take: s.Before, Add: Amounts{{ID: s.Add.Tube, Parts: s.Add.Parts()}}, Shares: s.Shares, Look: shown.NewLook(s.Lab, munsell),
		Goal: shown.LabOf(s.Goal), DE: shown.DE(s.DE, tolerance, s.Within), Direction: direction(s.Lab, s.Goal), Reached: s.Within, made: s,
	}
}

// Verdict is the answer in a sentence or two.
func (v *ValueString) Verdict() string {
	missed := 0
	if !v.Start.Reached {
		missed++
	}
	for _, s := range v.Steps {
		if !s.Reached {
			missed++
		}
	}
	mixes := len(v.Steps) + 1
	out := fmt.Sprintf("One hue in %s, each but the first made of the one before by one addition.", shown.Counted(mixes, "value"))
	if mixes == 1 {
		out = "No addition leads to another value."
	} else {
		out += fmt.Sprintf(" No. %d is the colour wanted.", v.no)
	}
	switch {
	case missed == 1:
		out += fmt.Sprintf(" One of them misses its value or its hue by more than ΔE00 %s; it is marked x.", v.Tolerance)
	case missed > 1:
		out += fmt.Sprintf(" %s of them miss their value or their hue by more than ΔE00 %s; they are marked x.", shown.Capital(shown.Spelled(missed)), v.Tolerance)
	}
	if short := len(v.Values) - mixes; short > 0 {
		out += fmt.Sprintf(" %s more %s asked for: no one addition from these tubes leads there.", shown.Capital(shown.Spelled(short)), map[bool]string{true: "was", false: "were"}[short == 1])
	}
	return out
}

// Headings of the two runs.
const (
	lighterHeading = "Lighter, each of the one before"
	darkerHeading  = "Darker, each of the one before"
	stringNote     = "Put part of each mix aside before you go on from the rest. The differences are in value and hue, but for the colour wanted: chroma may fall to a quarter."
)

// runs are the steps under their headings.
func (v *ValueString) runs() []stringRun {
	return []stringRun{{lighterHeading, v.Steps[:v.lighter]}, {darkerHeading, v.Steps[v.lighter:]}}
}

type stringRun struct {
	Heading string
	Steps   []StringStep
}

// words are what to do: "4 of no. 3 + 1 titanium white".
func (s *StringStep) words(name func(string) string) string {
	return s.made.Words(fmt.Sprintf("no. %d", s.From), name)
}

func beyondMark(reached bool) string {
	if reached {
		return " "
	}
	return "x"
}

// Text is the string for a terminal.
func (v *ValueString) Text(s terminal.Style) string {
	var b strings.Builder
	id := func(id string) string { return id }
	b.WriteString(s.SwatchLine(v.Wanted.Lab))
	b.WriteString(s.Wrap("", 2, "Wanted: "+v.Wanted.String()+", and its hue over "+shown.Counted(len(v.Values), "value")+"."))
	b.WriteString(s.Wrap("", 2, fmt.Sprintf("From %s; at most %s in a mix; %s.",
		strings.Join(v.Palette, ", "), shown.Counted(v.PaintsPerMix, "paint"), v.SeenUnder())))
	b.WriteString("\n" + s.Wrap("", 2, v.Verdict()))
	start := v.Start.shown()
	terminal.Heading(&b, s, "Start with")
	b.WriteString(s.WrapAfter(fmt.Sprintf("%s %d  ", beyondMark(v.Start.Reached), v.Start.No)+s.Pair(v.Start.goal, start.Lab), start.words(id)))
	b.WriteString(s.Wrap("     ", 5, shown.Capital(start.Look.String())+"; "+start.missWords()+"."))
	b.WriteString(s.Wrap("     ", 5, start.Order))
	for _, run := range v.runs() {
		if len(run.Steps) == 0 {
			continue
		}
		terminal.Heading(&b, s, run.Heading)
		for _, step := range run.Steps {
			b.WriteString(s.WrapAfter(fmt.Sprintf("%s %d  ", beyondMark(step.Reached), step.No)+s.Pair(step.Goal, step.Lab), step.words(id)))
			b.WriteString(s.Wrap("     ", 5, shown.Capital(step.Look.String())+"; "+differenceWords(step.DE, step.Direction)+"."))
		}
	}
	b.WriteString("\n" + s.Wrap("", 2, stringNote))
	b.WriteString(s.MunsellLine(v.MunsellNote))
	s.Close(&b, v.used.Cautions(v.used.IDs()))
	return b.String()
}
