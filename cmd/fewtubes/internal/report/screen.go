package report

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// screen is what a painter wants to see first, on one screen: the palette, what it
// reaches, what stays out of reach and how far, the recipes. The rest is Text's.
func (c *Choice) screen(s terminal.Style) string {
	var b strings.Builder
	b.WriteString(s.Wrap("", 0, c.headline()))
	b.WriteString("\n" + s.Wrap("", 0, sentences(c.Verdict(), c.briefProof(), c.GreensSentence(), c.briefDoubt())))
	if len(c.Palettes) == 0 {
		c.writeConflict(&b, s)
		return b.String()
	}
	best := &c.Palettes[0]
	for _, line := range []string{c.BuySentence(), c.FewestSentence()} {
		if line != "" {
			b.WriteString(s.Wrap("", 0, line))
		}
	}
	if c.Schema != schemaCheck {
		c.writeCovered(&b, s)
	}
	short := c.short(best.Tubes)
	c.writeTubes(&b, s, *best, short)
	rows := c.screenRows(s, best, short)
	if len(rows[false]) > 0 {
		terminal.Heading(&b, s, "Out of reach, with the nearest mix and what is wrong with it")
		writeRows(&b, s, rows[false])
	}
	if len(rows[true]) > 0 {
		terminal.Heading(&b, s, "The mixes, each with its ΔE00")
		if line := briefPrepared(best, short); line != "" {
			b.WriteString(s.Wrap("  ", 4, line))
		}
		writeRows(&b, s, rows[true])
	}
	c.writeBases(&b, s, *best)
	if c.MunsellNote != "" {
		b.WriteString(s.Wrap("  ", 2, c.MunsellNote))
	}
	writeLessons(&b, s, c.steerSections())
	s.Close(&b, c.Cautions(*best))
	b.WriteString(s.Wrap("", 0, "--more: "+strings.Join(c.rest(), ", ")+"."))
	return b.String()
}

func sentences(each ...string) string {
	return strings.TrimSpace(strings.Join(each, " "))
}

// short are the names of a palette's tubes where it stands beside them.
func (c *Choice) short(ids []string) func(string) string { return c.list().Short(ids) }

// briefProof is ProofSentence where what it rests on is told elsewhere.
func (c *Choice) briefProof() string {
	fewer := "Fewer will not do"
	if c.ToBuy != nil {
		fewer = "Buying fewer will not do, nor will as many with fewer tubes in all"
	}
	switch {
	case c.Schema == schemaCheck || len(c.Conflict) > 0 || c.nothingReachable():
		return c.ProofSentence()
	case c.Minimum.Proof == solver.Searched || c.ToBuy != nil && c.ToBuy.Proof == solver.Searched && len(c.NeedsToBuy) > 0:
		return sentences(fewer+", as a thorough search found."+c.unsettled(), c.tiesSentence())
	case c.Minimum.Proof == solver.Certified:
		return sentences(fewer+", which is proved.", c.tiesSentence())
	}
	return c.ProofSentence()
}

// screenRow is a colour and its recipe, in columns.
type screenRow struct{ lead, words string }

// screenRows are the colours within reach and those out of reach.
func (c *Choice) screenRows(s terminal.Style, p *Palette, short func(string) string) map[bool][]screenRow {
	rows := map[bool][]screenRow{}
	name := terminal.Widest(p.Targets, func(t Target) string { return t.Name })
	munsell := terminal.Widest(p.Targets, func(t Target) string { return t.Munsell })
	de := terminal.Widest(p.Targets, func(t Target) string { return t.recipeDE().String() })
	for _, t := range p.Targets {
		mark := " "
		if !t.Reached {
			mark = "x"
		}
		swatches := ""
		if s.Swatches {
			swatches = s.Swatch(t.Lab.Colour(), 2) + s.Swatch(t.mixed().Colour(), 2) + " "
		}
		lead := mark + " " + swatches + terminal.Row(terminal.Pad(t.Name, name), terminal.Pad(t.Munsell, munsell), terminal.Pad(t.recipeDE().String(), -de)) + "  "
		words := t.byEye() + t.brief(short)
		if !t.Reached {
			words += c.astray(t, s.Room(lead+words))
		}
		rows[t.Reached] = append(rows[t.Reached], screenRow{lead, words})
	}
	return rows
}

func writeRows(b *strings.Builder, s terminal.Style, rows []screenRow) {
	for _, r := range rows {
		b.WriteString(s.WrapAfter(r.lead, r.words))
	}
}

// brief is recipe in as few words as the mixing takes.
func (t Target) brief(short func(string) string) string {
	var out string
	switch {
	case t.byHand != nil:
		out = t.byHand.Brief(short)
	case t.LetDown != nil:
		out = t.LetDown.Words(short)
	default:
		out = t.Parts.Recipe(short)
	}
	if t.Coarse() {
		out += "; nearer by volume (--more)"
	}
	return out
}

// faultsOnScreen are told of a colour out of reach, the largest first.
const faultsOnScreen = 2

// astray says what is wrong with the mix of a colour out of reach, the second fault
// where there is room on the line, and how near all tubes come that are allowed.
func (c *Choice) astray(t Target, room int) string {
	out := ": a little of everything"
	for i, f := range colour.Direction(t.mixed().Colour(), t.Lab.Colour()).Faults {
		words := fmt.Sprintf("%s by %.1f", f.Fault.Brief(), f.By)
		switch {
		case i == 0:
			out = ": " + words
		case i < faultsOnScreen && len(out)+len(words)+2 <= room:
			out += ", " + words
		}
	}
	for _, m := range c.Missed {
		if m.Target != t.Name {
			continue
		}
		if m.Unreachable && c.Schema != schemaCheck {
			out += fmt.Sprintf("; all the allowed tubes: %s", m.BestDE)
		}
		out += m.certainty()
	}
	return out
}

// briefPrepared says what to let down first, by the names that recipes give it.
func briefPrepared(p *Palette, short func(string) string) string {
	if len(p.Prepared) == 0 {
		return ""
	}
	var words []string
	for _, pile := range p.Prepared {
		words = append(words, fmt.Sprintf("%s (%s, %d ml)", pile.pile.Brief(short), pile.pile.Words(short), pile.ML))
	}
	return "Prepare first: " + strings.Join(words, "; ") + "."
}

// rest are the sections that Text has and the first screen has not.
func (c *Choice) rest() (out []string) {
	say := func(there bool, words string) {
		if there {
			out = append(out, words)
		}
	}
	say(len(c.Missed) > 0, "what helps")
	say(len(c.Needs) > 0, "why not fewer")
	say(len(c.Palettes) > 1, "other palettes")
	say(c.FewerHeading() != "", "what to spare")
	say(len(c.Why) > 0, "each tube's use")
	say(len(c.Swaps) > 0, "stand-ins")
	say(c.additionsIntro() != "" || c.homeSentence() != "", "what to add or leave")
	say(c.LightSentence() != "", "another light")
	say(len(c.Minds()) > 0, "risky mixes")
	say(len(out) == 0, "every figure")
	return out
}
