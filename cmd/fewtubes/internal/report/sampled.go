package report

import (
	"fmt"
	"strings"

	"fewtubes/gamut/colour"
)

// Sampled is one colour taken from a photograph.
type Sampled struct {
	Name  string
	Lab   colour.Lab
	Area  float64 // percent of the picture
	Where string  // in words
}

// SampledText is a table of colours taken from photographs, one to a line:
// value 0..10, chroma, area, name, place.
func SampledText(items []Sampled, s Style) string {
	var b strings.Builder
	name := widest(items, func(t Sampled) string { return t.Name })
	b.WriteString(row(blank(s, 4), "value", "chroma", "  area", pad("colour", name), "where") + "\n")
	for _, t := range items {
		b.WriteString(row(
			s.swatch(t.Lab, 4),
			pad(Value(t.Lab.L), -5),
			pad(digits(t.Lab.LCh().C, 0), -6),
			pad(fmt.Sprintf("%s %%", digits(t.Area, 1)), -6),
			pad(t.Name, name),
			t.Where,
		) + "\n")
	}
	return b.String()
}

// blank stands above a swatch.
func blank(s Style, n int) string {
	if !s.Swatches {
		return ""
	}
	return strings.Repeat(" ", n)
}
