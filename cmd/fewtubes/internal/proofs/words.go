package proofs

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/gamut/colour"
)

// Words are the theorem in words.
func (s *Statement) Words() string {
	var b strings.Builder
	paragraph := func(indent int, text string) { b.WriteString(terminal.Style{Width: 100}.Wrap("", indent, text)) }
	if s.Title != "" {
		paragraph(0, s.Title)
		b.WriteByte('\n')
	}
	paragraph(0, "Theorem. "+s.theorem()+" "+s.outOfReach())
	for k, m := range s.Minima {
		b.WriteByte('\n')
		paragraph(0, "That it takes "+m.String()+" follows from these needs, which no palette of fewer meets together"+s.limitWords(k)+":")
		for i := range s.Needs {
			if s.Needs[i].For == k {
				paragraph(4, fmt.Sprintf("%d. %s.", i+1, s.needWords(&s.Needs[i])))
			}
		}
	}
	b.WriteString("\nThe colours\n")
	for i := range s.Colours {
		c := &s.Colours[i]
		paragraph(4, fmt.Sprintf("%d. %s: %s, within ΔE00 %g; %s", i+1, c.Name, InWords(c.Lab), c.Tolerance, stateWords[c.State]))
	}
	b.WriteString("\nThe tubes\n")
	paragraph(2, "  "+strings.Join(s.IDs(s.every()), ", "))
	b.WriteByte('\n')
	paragraph(0, "It is a theorem about the numbers in "+tubesFile+" and the two-constant Kubelka-Munk model, whatever the number of paints in a mix; not about the paint in your tubes.")
	return b.String()
}

var stateWords = [...]string{Open: "nothing is said of it", Reached: "reached", Missed: "out of reach", Searched: "out of reach as far as a search found"}

// theorem is the main sentence.
func (s *Statement) theorem() string {
	seen := shown.Sight{Light: s.Light, Surface: s.Surface.View()}.SeenUnder()
	reached := s.in(Reached)
	if len(s.Minima) == 0 {
		return fmt.Sprintf("Of %s under %s, mixes of the %s below reach %d.", shown.Counted(len(s.Colours), "colour"), seen, shown.Counted(len(s.Tubes), "tube"), len(reached))
	}
	which := "each of the " + shown.Counted(len(reached), "colour")
	if len(reached) == 1 {
		which = "the one colour"
	}
	return fmt.Sprintf("Of the %s below, every palette whose mixes come within the tolerance of %s named reached, under %s, takes at least %s, and one takes no more: %s.",
		shown.Counted(len(s.Tubes), "tube"), which, seen, s.least(), strings.Join(s.IDs(s.Palette), ", "))
}

// outOfReach says which colours no mix comes near.
func (s *Statement) outOfReach() string {
	var names []string
	for _, i := range s.in(Missed, Searched) {
		names = append(names, s.Colours[i].Name)
	}
	if len(names) == 0 {
		return "None is said to be out of reach."
	}
	return "No mix whatever of all these tubes comes within the tolerance of: " + strings.Join(names, ", ") + "."
}

// in are the colours of some states.
func (s *Statement) in(states ...State) (out []int) {
	for i := range s.Colours {
		if slices.Contains(states, s.Colours[i].State) {
			out = append(out, i)
		}
	}
	return out
}

// least are the minima.
func (s *Statement) least() string {
	words := make([]string, len(s.Minima))
	for i, m := range s.Minima {
		words[i] = m.String()
	}
	return strings.Join(words, ", and with no more than that at least ")
}

// String is how much it is of what.
func (m Minimum) String() string {
	w := minimised[m.What]
	if m.Least == 1 {
		return "1 " + w.one
	}
	return fmt.Sprintf("%d %s", m.Least, w.some)
}

// limitWords are the limits that a palette keeps besides, the minima before the one at
// place k among them.
func (s *Statement) limitWords(k int) string {
	l := &s.Limits
	var words []string
	for _, m := range s.Minima[:min(k, len(s.Minima))] {
		words = append(words, "at most "+m.String())
	}
	if l.Most > 0 {
		words = append(words, "at most "+shown.Counted(l.Most, "tube"))
	}
	if l.Budgeted {
		words = append(words, fmt.Sprintf("a budget of %.2f", float64(l.Budget)/100))
	}
	for _, i := range l.Keep {
		words = append(words, "keep "+s.Tubes[i].ID)
	}
	for _, group := range l.Groups {
		words = append(words, "at most one of "+strings.Join(s.IDs(group), ", "))
	}
	if len(words) == 0 {
		return ""
	}
	return " with the limits (" + strings.Join(words, "; ") + ")"
}

func (s *Statement) needWords(n *Need) string {
	one := "one of "
	if len(n.OneOf) == 1 {
		one = ""
	}
	return s.Colours[n.Colour].Name + " needs " + one + strings.Join(s.IDs(n.OneOf), ", ")
}

// InWords is a colour by figures and name.
func InWords(c colour.Lab) string {
	return fmt.Sprintf("lab(%.4g %.4g %.4g), %s", c.L, c.A, c.B, strings.ToLower(colour.Name(c).String()))
}

// Text says what is proven and about what, what is missing first.
func (v *Verdict) Text(s terminal.Style) string {
	var b strings.Builder
	for _, what := range v.Missing {
		b.WriteString(s.Wrap("", 4, "Not proven: "+what+"."))
	}
	about := v.Statement
	if about.Title != "" {
		b.WriteString(s.Wrap("", 2, about.Title))
	}
	b.WriteString(s.Wrap("", 2, v.line()))
	b.WriteString(s.Wrap("", 2, fmt.Sprintf("About %s under %s:", shown.Counted(len(about.Colours), "colour"),
		shown.Sight{Light: about.Light, Surface: about.Surface.View()}.SeenUnder())))
	for i := range about.Colours {
		c := &about.Colours[i]
		says := [...]string{Open: "nothing is said", Reached: "a mix comes within", Missed: "no mix comes within", Searched: "no mix comes within"}[c.State]
		b.WriteString(s.Wrap("  ", 6, fmt.Sprintf("%s, %s: %s ΔE00 %g: %s.", c.Name, InWords(c.Lab), says, c.Tolerance, holds(v.ColoursHold[i]))))
	}
	b.WriteString(s.Wrap("", 2, fmt.Sprintf("And about %s: %s.", shown.Counted(len(about.Tubes), "tube"), strings.Join(about.IDs(about.every()), ", "))))
	if len(about.Minima) == 0 {
		return b.String()
	}
	for i := range about.Needs {
		b.WriteString(s.Wrap("  ", 6, fmt.Sprintf("Need %d. %s: %s.", i+1, about.needWords(&about.Needs[i]), holds(v.NeedsHold[i]))))
	}
	for k, m := range about.Minima {
		b.WriteString(s.Wrap("  ", 6, fmt.Sprintf("No palette of fewer than %s meets the needs for it%s: %s.", m, about.limitWords(k), holds(v.Covering[k]))))
	}
	return b.String() + s.Wrap("  ", 6, "The palette: "+strings.Join(about.IDs(about.Palette), ", ")+".")
}

// line is what it comes to.
func (v *Verdict) line() string {
	if len(v.Minima) == 0 {
		return v.missesLine()
	}
	is := "is proven"
	if !v.Proven() {
		is = "is not proven"
	}
	comma := ""
	if len(v.Minima) > 1 {
		comma = ","
	}
	return fmt.Sprintf("The minimum of %s%s %s.", v.least(), comma, is)
}

func (v *Verdict) missesLine() string {
	missed := len(v.in(Missed, Searched))
	switch {
	case !v.Proven():
		return "Not every miss is proven. No minimum is stated."
	case missed == 0:
		return "No colour is said to be missed, so that there is nothing to prove. No minimum is stated."
	}
	return fmt.Sprintf("Every miss is proven (%d). No minimum is stated.", missed)
}

func holds(proven bool) string {
	if proven {
		return "holds"
	}
	return "not proven"
}
