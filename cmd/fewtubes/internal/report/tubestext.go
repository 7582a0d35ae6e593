package report

import (
	"fmt"
	"strings"

	"fewtubes/gamut/colour"
)

// Text lists the catalogue, or shows its only tube in full.
func (c *Catalogue) Text(s Style) string {
	if len(c.Tubes) == 1 {
		return c.Tubes[0].text(s, c.Light) + s.munsellLine(c.MunsellNote)
	}
	var b strings.Builder
	id := widest(c.Tubes, func(t TubeFull) string { return t.ID })
	pigments := widest(c.Tubes, func(t TubeFull) string { return t.pigments() })
	munsell := widest(c.Tubes, func(t TubeFull) string { return t.Munsell })
	price := widest(c.Tubes, func(t TubeFull) string { return t.priceWords() })
	for _, t := range c.Tubes {
		lead := row(
			s.swatch(t.Lab.Colour(), 3)+s.swatch(t.TintLab.Colour(), 3),
			pad(t.ID, id), pad(t.pigments(), pigments), pad(t.Munsell, munsell), pad(t.priceWords(), -price), pad(t.Basis, len("estimated")))
		b.WriteString(strings.TrimRight(s.wrapAfter(lead+"  ", strings.Join(t.Hazards, ", ")), " \n") + "\n")
	}
	fmt.Fprintf(&b, "\n%s", s.wrap("", 0, fmt.Sprintf("%s. Prices are indicative, and %s.", capital(counted(len(c.Tubes), "tube")), "a tube's own label comes first")))
	return b.String() + s.munsellLine(c.MunsellNote)
}

// munsellLine is the note on the notation, where there is one.
func (s Style) munsellLine(note string) string {
	if note == "" {
		return ""
	}
	return "\n" + s.wrap("", 2, note)
}

func (t TubeLine) pigments() string { return strings.Join(t.Pigments, "+") }

func (t TubeFull) text(s Style, light string) string {
	var b strings.Builder
	if s.Swatches {
		b.WriteString(s.swatch(t.Lab.Colour(), 16) + s.swatch(t.TintLab.Colour(), 16) + "\n\n")
	}
	b.WriteString(s.wrap("", 0, fmt.Sprintf("%s (%s), %s", t.Name, t.ID, strings.Join(t.Pigments, " + "))))
	for _, fact := range t.Facts(light) {
		b.WriteString(s.wrap("  "+pad(fact.What, 15), 17, fact.Is))
	}
	b.WriteString("\n" + s.wrap("", 0, "Cautions: "+strings.TrimSpace(strings.Join(t.Hazards, ", ")+". "+t.Caution)))
	b.WriteString(s.wrap("", 0, SafetyNote))
	return b.String()
}

// Fact is one line about a tube.
type Fact struct{ What, Is string }

// Facts are what a painter may want to know of a tube, in words.
func (t TubeFull) Facts(light string) []Fact {
	lab := func(c Lab, munsell string) string {
		out := fmt.Sprintf("%s: L* %s, a* %s, b* %s, value %s", colour.Name(c.Colour()), c[0], c[1], c[2], Value(float64(c[0])))
		if munsell != "" {
			out += ", Munsell " + munsell
		}
		return out
	}
	facts := []Fact{
		{"masstone", lab(t.Lab, t.Munsell) + " (light " + light + ")"},
		{"in white 1:4", lab(t.TintLab, t.TintMunsell)},
		{"basis", basisWords(t.Basis)},
		{"readings from", t.Source},
		{"lightfastness", lightfastWords(t.Lightfastness)},
		{"opacity", t.Opacity},
		{"drying", t.Drying},
		{"price", fmt.Sprintf("%s for %g ml, band %d of 5 (indicative)", t.Price, t.SizeML, t.PriceBand)},
		{"density", fmt.Sprintf("%g g/ml", t.Density)},
	}
	if t.Own {
		facts = append(facts, Fact{"own", "yes"})
	}
	var known []Fact
	for _, f := range facts {
		if f.Is != "" {
			known = append(known, f)
		}
	}
	return known
}

func basisWords(basis string) string {
	switch basis {
	case "measured":
		return "measured: K and S from published readings of this pigment"
	case "fitted":
		return "fitted: K and S fitted by this program to readings"
	case "estimated":
		return "estimated: from a published reflectance with scattering borrowed from a relative; its strength may be off by a factor of two"
	}
	return basis
}

func lightfastWords(class string) string {
	if class == "" {
		return ""
	}
	return class + " (ASTM D4303 class usually reported in oil; I is best)"
}
