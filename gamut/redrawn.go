package gamut

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/search"
	"fewtubes/gamut/set"
)

// Redrawn mixes the same paints with other K and S, positive and finite, one for
// each: as they may be from other makers. Its searches start where those of m do.
func (m *Mixer) Redrawn(paints []film.Paint) *Mixer {
	return &Mixer{m.search.Redrawn(paints)}
}

// Near is a mix that is to be found again with paints redrawn: the same amounts,
// strength made up for.
type Near struct{ scaled search.Scaled }

// Near is a mix of these paints.
func (m *Mixer) Near(mix *Mix) Near {
	s := search.Mix(*mix)
	return Near{m.search.Scaled(&s)}
}

// Remixes reports whether the palette, of redrawn paints, reaches the target within a
// tolerance in CIEDE2000, as Within does with an effort, but begins with a mix that
// served before.
func (m *Mixer) Remixes(target colour.Lab, palette set.Set, near Near, tolerance float64, effort Effort) bool {
	return m.search.Remixes(target, palette, near.scaled, tolerance, search.Effort(effort))
}

// Again reports whether the paints of that mix reach the target again.
func (m *Mixer) Again(target colour.Lab, near Near, tolerance float64) bool {
	return m.search.Again(target, near.scaled, tolerance)
}

// Resettles is a quick Remixes: from that mix alone. No proof that the target is missed.
func (m *Mixer) Resettles(target colour.Lab, palette set.Set, near Near, tolerance float64) bool {
	return m.search.Resettles(target, palette, near.scaled, tolerance)
}
