package search

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// Where a mix may hold few paints the nearest shares none with other good ones, and of
// palettes as large as these every support is gone through: none is overlooked.
func TestEverySupportOfLargePalettes(t *testing.T) {
	tubes, byLimit := tubeMixers(t)
	for _, c := range []struct{ limit, paints, targets int }{{2, 60, 30}, {3, 16, 10}} {
		rng := rand.New(rand.NewPCG(46, uint64(c.limit)))
		palette := samples.Palette(len(tubes), c.paints, c.paints, rng)
		held := set.Of(len(tubes), palette...)
		l := newLattice(selected(tubes, palette))
		for range c.targets {
			target := samples.Mix(byLimit[4], palette, rng) // of four paints: out of reach of fewer, but not far
			best := l.nearest(target, c.limit, rng)
			if mix := byLimit[c.limit].Closest(target, held, Search); mix.DE > best.de+nearestSlack {
				t.Errorf("at most %d of %d paints to %v: %v at %.4f, the reference has %.4f", c.limit, c.paints, target, mix.Paints, mix.DE, best.de)
			}
		}
	}
}
