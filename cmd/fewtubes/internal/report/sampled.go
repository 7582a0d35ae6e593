package report

import (
	"fmt"
	"strings"

	"fewtubes/cmd/fewtubes/internal/report/shown"
	"fewtubes/cmd/fewtubes/internal/report/terminal"
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
func SampledText(items []Sampled, s terminal.Style) string {
	var b strings.Builder
	name := terminal.Widest(items, func(t Sampled) string { return t.Name })
	b.WriteString(terminal.Row(blank(s, 4), "value", "chroma", "  area", terminal.Pad("colour", name), "where") + "\n")
	for _, t := range items {
		b.WriteString(terminal.Row(
			s.Swatch(t.Lab, 4),
			terminal.Pad(shown.Value(t.Lab.L), -5),
			terminal.Pad(shown.Digits(t.Lab.LCh().C, 0), -6),
			terminal.Pad(fmt.Sprintf("%s %%", shown.Digits(t.Area, 1)), -6),
			terminal.Pad(t.Name, name),
			t.Where,
		) + "\n")
	}
	return b.String()
}

// blank stands above a swatch.
func blank(s terminal.Style, n int) string {
	if !s.Swatches {
		return ""
	}
	return strings.Repeat(" ", n)
}
