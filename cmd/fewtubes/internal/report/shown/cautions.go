package shown

import "strings"

// Caution is what to mind about a tube of a palette.
type Caution struct {
	Tube    string
	Hazards []string
	Text    string
}

// String is the caution in one line.
func (w Caution) String() string {
	out := w.Tube
	if len(w.Hazards) > 0 {
		out += " (" + strings.Join(w.Hazards, ", ") + ")"
	}
	return strings.TrimSuffix(out+": "+w.Text, ": ")
}

// SafetyNote ends every list of cautions.
const SafetyNote = "Pigment dust, spray and solvents can hurt: do not sand, spray or heat these paints, keep them off food and skin. " +
	"The label, the safety data sheet and local rules come before anything said here."
