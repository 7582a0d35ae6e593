package report

import (
	"fmt"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/cmd/fewtubes/internal/report/tubelist"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// Text is the answer for a terminal: what comes first, or all there is to say.
func (c *Choice) Text(s terminal.Style) string {
	if !s.More {
		return c.screen(s)
	}
	var b strings.Builder
	b.WriteString(s.Wrap("", 0, c.headline()))
	b.WriteByte('\n')
	b.WriteString(s.Wrap("", 0, sentences(c.Verdict(), c.ProofSentence(), c.GreensSentence())))
	if len(c.Palettes) == 0 {
		c.writeConflict(&b, s)
		return b.String()
	}
	if line := c.DoubtSentence(); line != "" {
		b.WriteString("\n" + s.Wrap("", 0, line))
	}
	best := c.Palettes[0]
	for _, line := range []string{c.BuySentence(), c.FewestSentence()} {
		if line != "" {
			b.WriteString(s.Wrap("", 0, line))
		}
	}
	c.writeCovered(&b, s)
	c.writeTubes(&b, s, best, nil)
	c.writeMixes(&b, s, best)
	c.writeMisses(&b, s)
	c.writeFewer(&b, s)
	c.writeNeedsToBuy(&b, s)
	c.writeNeeds(&b, s)
	c.writeOthers(&b, s)
	c.writeLessons(&b, s)
	s.Close(&b, c.Cautions(best))
	return b.String()
}

// headline is the title and what the answer was asked under.
func (c *Choice) headline() string {
	out := strings.Join(c.asked(), "; ")
	if c.Title != "" {
		out = c.Title + ": " + out
	}
	return out
}

// asked is what the answer was asked under, in words.
func (c *Choice) asked() []string {
	return append([]string{
		shown.Counted(len(c.problem.Targets), "colour"),
		"tolerance ΔE00 " + c.Tolerance.String(),
		c.SeenUnder(),
		c.mixedWords(),
	}, c.Limits...)
}

// mixedWords say what counts as a mix.
func (c *Choice) mixedWords() string {
	most := fmt.Sprintf("at most %s in a mix", shown.Counted(c.PaintsPerMix, "paint"))
	if c.problem.ByHand == solver.Freely {
		return most
	}
	out := "mixed by hand from straight tubes and touches, at most three paints and a white"
	if c.problem.ByHand == solver.LetDown {
		out += " with one of them let down 1:10 in it"
	}
	if c.PaintsPerMix < 4 {
		out += ", " + most
	}
	return out
}

// bracketed is the mix whose difference stands in brackets beside a recipe.
func (c *Choice) bracketed() string {
	if c.problem.ByHand != solver.Freely {
		return "nearest by hand"
	}
	return "measured freely"
}

func (c *Choice) writeConflict(b *strings.Builder, s terminal.Style) {
	for _, limit := range c.Conflict {
		b.WriteString(s.Wrap("  ", 4, limit))
	}
}

// writeTubes lists the tubes of a palette, with the short names that recipes give them,
// if any.
func (c *Choice) writeTubes(b *strings.Builder, s terminal.Style, p Palette, short func(string) string) {
	heading := "The palette, " + c.priceWords(p)
	if short != nil {
		heading += c.briefCovered()
	}
	terminal.Heading(b, s, heading)
	lines := c.linesOf(p)
	id := terminal.Widest(lines, func(t tubelist.Line) string { return t.ID })
	pigments := terminal.Widest(lines, func(t tubelist.Line) string { return strings.Join(t.Pigments, "+") })
	price := terminal.Widest(lines, func(t tubelist.Line) string { return t.PriceWords() })
	called := func(t tubelist.Line) string { return "" }
	if short != nil {
		called = func(t tubelist.Line) string { return short(t.ID) }
	}
	name := terminal.Widest(lines, called)
	for _, t := range lines {
		lead := "  " + terminal.Row(
			s.Swatch(c.masstone(t.ID), 3)+s.Swatch(c.tint(t.ID), 3), terminal.Pad(called(t), name),
			terminal.Pad(t.ID, id), terminal.Pad(strings.Join(t.Pigments, "+"), pigments), terminal.Pad(t.PriceWords(), -price))
		mind := strings.Join(t.Mind(), ", ")
		if line := terminal.Row(lead, terminal.Pad(t.Basis, len("estimated")), mind); s.Room(line) >= 0 {
			b.WriteString(line + "\n")
		} else {
			b.WriteString(s.WrapAfter(lead+"  ", sentences(t.Basis, mind)))
		}
	}
}

// PriceWords is what the palette costs, and that the price is only a guide.
func (c *Choice) priceWords(p Palette) string {
	return "indicative price " + p.Price.String()
}

func (c *Choice) writeMixes(b *strings.Builder, s terminal.Style, p Palette) {
	if len(p.Prepared) > 0 {
		terminal.Heading(b, s, preparedHeading)
		for _, pile := range p.Prepared {
			b.WriteString(s.Wrap("  ", 4, pile.sentence(func(id string) string { return id })))
		}
	}
	c.writeBases(b, s, p)
	terminal.Heading(b, s, fmt.Sprintf("The mixes, %s (in brackets: %s; x: out of reach)", c.worstAndMean(p), c.bracketed()))
	name := terminal.Widest(p.Targets, func(t Target) string { return t.Name })
	munsell := terminal.Widest(p.Targets, func(t Target) string { return t.Munsell })
	parts := terminal.Widest(p.Targets, func(t Target) string { return t.recipeDE().String() })
	de := terminal.Widest(p.Targets, func(t Target) string { return t.DE.String() })
	for _, t := range p.Targets {
		mark := " "
		if !t.Reached {
			mark = "x"
		}
		lead := "  " + terminal.Row(
			s.Swatch(t.Lab.Colour(), 3)+s.Swatch(t.mixed().Colour(), 3),
			mark+" "+terminal.Pad(t.Name, name), terminal.Pad(t.Munsell, munsell), terminal.Pad(t.recipeDE().String(), -parts), terminal.Pad("("+t.DE.String()+")", -de-2)) + "  "
		recipe := t.recipe(func(id string) string { return id })
		b.WriteString(s.WrapAfter(lead, recipe))
	}
	if note := recipeNote(&p); note != "" {
		b.WriteString(s.Wrap("  ", 2, note))
	}
	if c.MunsellNote != "" {
		b.WriteString(s.Wrap("  ", 2, c.MunsellNote))
	}
}

// recipe is the best recipe there is, in words: plain parts, or strong paints let
// down first where plain parts spoil the mix. Where neither will do it says so
// and gives the volumes.
func (t Target) recipe(name func(string) string) string {
	out := t.Parts.Recipe(name)
	switch {
	case t.byHand != nil:
		out = t.byHand.Words(name)
	case t.LetDown != nil:
		out = t.LetDown.Words(name)
	}
	if t.Coarse() {
		out += "; too coarse, by volume: " + t.Shares.Percents(name)
	}
	return t.byEye() + out
}

// recipeDE is the difference that recipe gives.
func (t Target) recipeDE() shown.Hundredths {
	if t.LetDown != nil {
		return t.LetDown.DE
	}
	return t.PartsDE
}

// worstAndMean says how near a palette comes, and of which colours that is told.
func (c *Choice) worstAndMean(p Palette) string {
	out := fmt.Sprintf("worst ΔE00 %s, mean %s", p.WorstDE, p.MeanDE)
	if n := c.unreachable(); n > 0 && n < len(p.Targets) {
		by := "the allowed tubes"
		if c.Schema == schemaCheck {
			by = "all the tubes together"
		}
		out += " of those " + by + " can reach"
	}
	return out
}

func (c *Choice) writeMisses(b *strings.Builder, s terminal.Style) {
	if len(c.Missed) == 0 {
		return
	}
	terminal.Heading(b, s, "Out of reach")
	for _, m := range c.Missed {
		b.WriteString(s.Wrap("  ", 4, m.Target+": "+c.MissSentence(m)+"."))
	}
}

func (c *Choice) writeNeeds(b *strings.Builder, s terminal.Style) {
	if len(c.Needs) == 0 {
		return
	}
	terminal.Heading(b, s, c.NeedsHeading())
	if line := c.CountSentence(); line != "" {
		b.WriteString(s.Wrap("  ", 2, line))
	}
	for _, n := range c.ShownNeeds() {
		b.WriteString(s.Wrap("  ", 4, c.NeedSentence(n)+"."))
	}
}

// linesOf are the tubes of a palette in its order.
func (c *Choice) linesOf(p Palette) []tubelist.Line {
	var out []tubelist.Line
	for _, id := range p.Tubes {
		if t := c.tube(id); t != nil {
			line := tubelist.NewLine(t)
			line.Own = c.has(t)
			out = append(out, line)
		}
	}
	return out
}

func (c *Choice) masstone(id string) colour.Lab {
	s := c.tube(id).Paint.Masstone(c.problem.Surface)
	return c.problem.Light.Lab(&s)
}

func (c *Choice) tint(id string) colour.Lab {
	s := c.tube(id).Paint.Tint(tubelist.WhiteOf(c.problem.Tubes), catalog.SwatchParts, c.problem.Surface)
	return c.problem.Light.Lab(&s)
}
