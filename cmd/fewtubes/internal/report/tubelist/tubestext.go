package tubelist

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
	"fewtubes/gamut/film/doubt"
)

// Text lists the catalogue, or shows its only tube in full.
func (c *Catalogue) Text(s terminal.Style) string {
	if len(c.Tubes) == 1 {
		return c.drawLine(s) + c.Tubes[0].text(s, c.seenUnder()) + s.MunsellLine(c.MunsellNote)
	}
	var b strings.Builder
	b.WriteString(c.drawLine(s))
	id := terminal.Widest(c.Tubes, func(t TubeFull) string { return t.ID })
	pigments := terminal.Widest(c.Tubes, func(t TubeFull) string { return t.pigments() })
	munsell := terminal.Widest(c.Tubes, func(t TubeFull) string { return t.Munsell })
	price := terminal.Widest(c.Tubes, func(t TubeFull) string { return t.PriceWords() })
	for _, t := range c.Tubes {
		lead := terminal.Row(
			s.Swatch(t.Lab.Colour(), 3)+s.Swatch(t.TintLab.Colour(), 3),
			terminal.Pad(t.ID, id), terminal.Pad(t.pigments(), pigments), terminal.Pad(t.Munsell, munsell), terminal.Pad(t.PriceWords(), -price), terminal.Pad(t.Basis, len("estimated")))
		b.WriteString(strings.TrimRight(s.WrapAfter(lead+"  ", strings.Join(t.Mind(), ", ")), " \n") + "\n")
	}
	fmt.Fprintf(&b, "\n%s", s.Wrap("", 0, fmt.Sprintf("%s. Prices are indicative, and %s.", shown.Capital(shown.Counted(len(c.Tubes), "tube")), "a tube's own label comes first")))
	return b.String() + s.MunsellLine(c.MunsellNote)
}

// drawLine says which plausible box is shown, if one is.
func (c *Catalogue) drawLine(s terminal.Style) string {
	if c.Draw == 0 {
		return ""
	}
	return s.Wrap("", 0, fmt.Sprintf("Plausible box %d: each tube as it may be from another maker, drawn from its doubt.", c.Draw)) + "\n"
}

func (t Line) pigments() string { return strings.Join(t.Pigments, "+") }

func (t TubeFull) text(s terminal.Style, sight string) string {
	var b strings.Builder
	if s.Swatches {
		b.WriteString(s.Swatch(t.Lab.Colour(), 16) + s.Swatch(t.TintLab.Colour(), 16) + "\n\n")
	}
	b.WriteString(s.Wrap("", 0, t.heading()))
	for _, fact := range t.Facts(sight) {
		b.WriteString(s.Wrap("  "+terminal.Pad(fact.What, 18), 20, fact.Is))
	}
	if caution := t.caution(); len(caution.Hazards) > 0 || caution.Text != "" {
		b.WriteString("\n" + s.Wrap("", 0, caution.String()))
	} else {
		b.WriteString("\n")
	}
	b.WriteString(s.Wrap("", 0, shown.SafetyNote))
	return b.String()
}

// Heading names the tube, its id and, where they are known, its pigments.
func (t TubeFull) heading() string {
	out := fmt.Sprintf("%s (%s)", t.Name, t.ID)
	if len(t.Pigments) > 0 {
		out += ", " + strings.Join(t.Pigments, " + ")
	}
	return out
}

// Fact is one line about a tube.
type Fact struct{ What, Is string }

// Facts are what a painter may want to know of a tube, in words; what is not
// known is left out.
func (t TubeFull) Facts(sight string) []Fact {
	facts := []Fact{
		{"masstone", colourWords(t.Lab, t.Munsell) + " (" + sight + ")"},
		{fmt.Sprintf("1:%d in white", catalog.SwatchParts), colourWords(t.TintLab, t.TintMunsell)},
		{"tinting strength", t.strengthWords()},
		{"known from", knownFrom(t.Basis)},
		{"mixed from", t.partsWords()},
		{"source", t.Source},
		{"in doubt", t.doubtWords()},
		{"lightfastness", lightfastWords(t.Lightfastness)},
		{"opacity", t.Opacity},
		{"drying", t.Drying},
		{"price", t.priceFact()},
	}
	if t.Density > 0 {
		facts = append(facts, Fact{"density", fmt.Sprintf("%g g/ml", t.Density)})
	}
	if t.Own {
		facts = append(facts, Fact{"own", "yes"})
	}
	return slices.DeleteFunc(facts, func(f Fact) bool { return f.Is == "" })
}

// briefFacts are those that tell one tube of a list from another.
func (t TubeFull) briefFacts() []Fact {
	facts := []Fact{
		{"masstone", newLookWith(t.Lab, t.Munsell).String()},
		{fmt.Sprintf("1:%d in white", catalog.SwatchParts), newLookWith(t.TintLab, t.TintMunsell).String()},
		{"tinting strength", t.Strength.String()},
		{"known from", t.Basis + "; " + t.Source},
		{"lightfastness", t.Lightfastness},
		{"film", t.filmFact()},
		{"price", t.priceFact()},
	}
	return slices.DeleteFunc(facts, func(f Fact) bool { return f.Is == "" })
}

// colourWords describe a colour by name, by value, chroma and hue, and by its
// numbers.
func colourWords(c shown.Lab, munsell string) string {
	return fmt.Sprintf("%s; L* %s, a* %s, b* %s", newLookWith(c, munsell), c[0], c[1], c[2])
}

func newLookWith(c shown.Lab, munsell string) shown.Look {
	look := shown.NewLook(c.Colour(), false)
	look.Munsell = munsell
	return look
}

// strengthWords rate how far the paint carries in white; the bounds set
// a fifth of the built-in tubes apart at either end.
func (t TubeFull) strengthWords() string {
	const weak, strong = 15, 25
	word := "middling"
	switch {
	case t.Strength == 0:
		return "none: this is the white of the tints"
	case t.Strength < weak:
		word = "weak"
	case t.Strength >= strong:
		word = "strong"
	}
	return fmt.Sprintf("%s: its tint lies ΔE00 %s from the white", word, t.Strength)
}

func (t TubeFull) filmFact() string {
	var out []string
	if t.Opacity != "" {
		out = append(out, t.Opacity)
	}
	if t.Drying != "" {
		out = append(out, t.Drying+" drying")
	}
	return strings.Join(out, ", ")
}

func (t TubeFull) priceFact() string {
	switch {
	case t.SizeML <= 0, t.Own && t.Price == 0:
		return ""
	case t.Own:
		return fmt.Sprintf("%s for %g ml", t.Price, t.SizeML)
	}
	return fmt.Sprintf("%s for %g ml, band %d of 5 (indicative)", t.Price, t.SizeML, t.PriceBand)
}

func knownFrom(basis string) string {
	switch basis {
	case "measured":
		return "measured: published readings of this pigment, alone and in mixtures"
	case "fitted":
		return "fitted: by this program, to published readings of paint films"
	case "estimated":
		return "estimated: the source below does not settle how it mixes"
	}
	return basis
}

// partsWords are the parts of a mixture, the largest first as they stand.
func (t TubeFull) partsWords() string {
	var words []string
	for _, p := range t.Parts {
		words = append(words, fmt.Sprintf("%.0f %% %s", 100*float64(p.Share), p.Tube))
	}
	return strings.Join(words, " + ")
}

// doubtWords say how far the tube in a painter's box may be from this one.
func (t TubeFull) doubtWords() string {
	if t.Off == nil {
		return ""
	}
	figures := fmt.Sprintf("strength ×/÷ %s; masstone ±%s, tint ±%s (ΔE00; two tubes in three lie within)", t.Off.Strength, t.Off.Masstone, t.Off.Tint)
	switch {
	case len(t.Parts) > 0:
		return "its parts, as other makers have them: " + figures
	case t.tube.Doubt == doubt.TwoColours:
		return "two colours do not tell how it mixes: half of its mixes with other paints lie within ΔE00 3 of what is foretold, one in ten beyond 8, and twice that if the colours are from a photograph"
	case t.tube.Doubt != t.tube.Basis.Doubt():
		return "what its readings leave open: " + figures
	}
	return "another maker's tube of that name: " + figures
}

func lightfastWords(class string) string {
	if class == "" {
		return ""
	}
	return class + " (ASTM D4303 class usually reported in oil; I is best)"
}
