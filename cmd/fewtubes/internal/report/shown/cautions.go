package shown

import (
	"slices"
	"strings"

	"fewtubes/catalog"
)

// Caution is what to mind about a tube of a palette.
type Caution struct {
	Tube    string
	Hazards []string // and what its film may come to
	Text    string
}

// brief are tubes by what they hold: "yellow ochre, burnt sienna (silica)".
func brief(of []Caution) string {
	var out strings.Builder
	for i, w := range of {
		name, _, _ := strings.Cut(w.Tube, " (")
		out.WriteString(catalog.InSentence(name))
		if i+1 < len(of) && slices.Equal(of[i+1].Hazards, w.Hazards) {
			out.WriteString(", ")
			continue
		}
		out.WriteString(" (" + strings.Join(w.Hazards, ", ") + "), ")
	}
	return strings.TrimSuffix(out.String(), ", ")
}

// String is the caution in one line.
func (w Caution) String() string {
	out := w.Tube
	if len(w.Hazards) > 0 {
		out += " (" + strings.Join(w.Hazards, ", ") + ")"
	}
	return strings.TrimSuffix(out+": "+w.Text, ": ")
}

// Brief closes a text: which tubes to mind, and the note in short.
func Brief(of []Caution) string {
	out := "Cautions: "
	if len(of) > 0 {
		out += "mind " + brief(of) + ". "
	}
	return out + "Do not sand, spray or heat paint; the label, the safety data sheet and local rules come first (--cautions for all)."
}

// SafetyNote ends every list of cautions.
const SafetyNote = "Pigment dust, spray and solvents can hurt: do not sand, spray or heat these paints, keep them off food and skin. " +
	"The label, the safety data sheet and local rules come before anything said here."
