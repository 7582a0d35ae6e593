package gamut

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/search"
	"fewtubes/gamut/set"
)

// Effort is how hard a search is made.
type Effort int

const (
	Quick   = Effort(search.Quick)   // a look while browsing
	Search  = Effort(search.Search)  // the default
	Verdict = Effort(search.Verdict) // for a verdict that enters a proof
)

func (e Effort) String() string { return search.Effort(e).String() }

// Closest is the mix of the palette's paints nearest to the target in
// CIEDE2000, of at most PaintsPerMix paints. The palette must hold a paint. The
// answer does not depend on the order of paints, or on what was asked before.
func (m *Mixer) Closest(target colour.Lab, palette set.Set, effort Effort) Mix {
	return Mix(m.search.Closest(target, palette, search.Effort(effort)))
}

// Within reports whether the palette reaches the target within a tolerance in
// CIEDE2000, with a mix that does or else the nearest. It stops at the first
// that does; the verdict is that of Closest with the same effort.
func (m *Mixer) Within(target colour.Lab, palette set.Set, tolerance float64, effort Effort) (Mix, bool) {
	mix, ok := m.search.Within(target, palette, tolerance, search.Effort(effort))
	return Mix(mix), ok
}

// WithinBy is a quick Within that starts from pairs with one of some paints of
// the palette: enough where the palette is known to miss the target without them.
func (m *Mixer) WithinBy(target colour.Lab, palette set.Set, paints []int, tolerance float64) (Mix, bool) {
	mix, ok := m.search.WithinBy(target, palette, paints, tolerance)
	return Mix(mix), ok
}

// ClosestFrom is the nearest mix that exactly so many starts lead to, or as many
// as the palette's pairs give: without the early end, the kicks and the detours
// of Closest. It is for measuring beside other methods of minimising.
func (m *Mixer) ClosestFrom(target colour.Lab, palette set.Set, starts int) Mix {
	return Mix(m.search.ClosestFrom(target, palette, starts))
}

// Alike lists the other paints, those that look most like the given one first,
// in masstone and in a tint. The list is shared: leave it as it is.
func (m *Mixer) Alike(paint int) []int { return m.search.Alike(paint) }

// Settle is the mix that the slopes lead to from the one given, of the same
// paints or fewer. A search of these paints may find a nearer.
func (m *Mixer) Settle(target colour.Lab, paints []int, shares []float64) Mix {
	return Mix(m.search.Settle(target, paints, shares))
}

// Nearer is a mix, or a nearer one found from other amounts by volume, > 0, of paints
// in ascending order: the mix shown beside a recipe is never farther from the target
// than the recipe is, whatever search each of them comes from.
func (m *Mixer) Nearer(target colour.Lab, mix Mix, paints []int, amounts []float64) Mix {
	return Mix(m.search.Nearer(target, search.Mix(mix), paints, amounts))
}

// Pulls tells, for every paint, what a little of it would do to a mix: the
// squared CIEDE2000 to the target that it promises to take away, by the slopes at
// the mix, the amounts of the others held in proportion. It is negative for a
// paint that leads away from the target, and only as good as a straight line is.
func (m *Mixer) Pulls(target colour.Lab, mix *Mix) []float64 {
	return m.search.Pulls(target, mix.Paints, mix.Shares)
}
