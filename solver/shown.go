package solver

import (
	"fewtubes/gamut"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/reach"
)

// shown is what is shown for a palette and a target: the nearest mix by itself.
// Only where that overlooks what the choice knows, and the eye could tell, it is
// looked for harder, and failing that the known mix is taken.
func (c *core) shown(t int, palette set.Set) gamut.Mix {
	mix := reach.Alone(c.oracle, t, palette)
	known := c.known[t].BestKnown(palette)
	if known == nil || !c.tells(t, known.DE, mix.DE) {
		return mix
	}
	if harder := c.oracle.Closest(t, palette, gamut.Verdict); !c.tells(t, known.DE, harder.DE) {
		return harder
	}
	return *known
}

// tells reports whether near is better than far as palettes are judged.
func (c *core) tells(t int, near, far float64) bool {
	tolerance := c.tolerance[t]
	return near <= tolerance && far > tolerance || asGood(near) < asGood(far)
}
