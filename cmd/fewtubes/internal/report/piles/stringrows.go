package piles

import (
	"slices"

	"fewtubes/cmd/fewtubes/internal/report/shown"
)

// StringRow is a value of a string as it is drawn.
type StringRow struct {
	No      int              `json:"no"` // 1 is the darkest
	Hex     string           `json:"hex"`
	Value   string           `json:"value"`
	Words   string           `json:"words"` // what to do
	DE      shown.Hundredths `json:"de"`
	Reached bool             `json:"reached"`
	Start   bool             `json:"start"`
}

// Rows are the values of a string, the darkest first.
func (v *ValueString) Rows() []StringRow {
	row := func(no int, l shown.Look, words string, de shown.Hundredths, reached bool) StringRow {
		return StringRow{No: no, Hex: shown.Hex(l.Lab.Colour()), Value: l.Value.String(), Words: words, DE: de, Reached: reached}
	}
	name, start := v.used.Name, v.Start.shown()
	first := row(v.Start.No, start.Look, start.words(name), start.DE, v.Start.Reached)
	first.Start = true
	out := []StringRow{first}
	for i := range v.Steps {
		s := &v.Steps[i]
		out = append(out, row(s.No, s.Look, s.words(name), s.DE, s.Reached))
	}
	slices.SortFunc(out, func(a, b StringRow) int { return a.No - b.No })
	return out
}

// Note says how a string is mixed.
func (v *ValueString) Note() string { return stringNote }
