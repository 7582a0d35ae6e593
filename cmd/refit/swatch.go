package main

import (
	"fmt"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// swatch is what a paint is judged by: its masstone and its tint in nine of white.
type swatch struct{ masstone, tint colour.Lab }

func labOf(s colour.Spectrum) colour.Lab { return colour.D65().Lab(&s) }

func newSwatch(p, white *film.Paint) swatch {
	return swatch{labOf(p.Masstone(film.Dry)), labOf(p.Tint(white, tintParts, film.Dry))}
}

// likeness is how far a paint is from another of the same pigment.
type likeness struct {
	masstone float64 // CIEDE2000
	tint     float64 // CIEDE2000, at the strength where the tints are nearest
	strength float64 // how many times as strong as the other
}

// likenessTo judges p, let down with white, against the swatch of another paint.
func likenessTo(of swatch, p, white *film.Paint) likeness {
	tint, parts := nearestTint(of.tint, p, white)
	return likeness{colour.DE2000(of.masstone, labOf(p.Masstone(film.Dry))), tint, parts / tintParts}
}

// nearestTint is the least CIEDE2000 between a tint and those of p, and the parts
// of white that give it: a coarse search over a thousandfold in strength, then
// the golden section.
func nearestTint(tint colour.Lab, p, white *film.Paint) (de, parts float64) {
	const low, high, steps, sections = -1.6, 6.4, 24, 14 // log parts
	away := func(logParts float64) float64 {
		return colour.DE2000(tint, labOf(p.Tint(white, portable.Exp(logParts), film.Dry)))
	}
	best, least := low, math.Inf(1)
	const step = (high - low) / steps
	for i := range steps + 1 {
		if d := away(low + float64(float64(i)*step)); d < least {
			best, least = low+float64(float64(i)*step), d
		}
	}
	const golden = 0.6180339887498949
	lo, hi := best-step, best+step
	a, b := hi-float64(golden*(hi-lo)), lo+float64(golden*(hi-lo))
	da, db := away(a), away(b)
	for range sections {
		if da < db {
			hi, b, db = b, a, da
			a = hi - float64(golden*(hi-lo))
			da = away(a)
		} else {
			lo, a, da = a, b, db
			b = lo + float64(golden*(hi-lo))
			db = away(b)
		}
	}
	return min(da, db, least), portable.Exp((lo + hi) / 2)
}

func labFields(c colour.Lab) []string {
	return []string{fmt.Sprintf("%.2f", c.L), fmt.Sprintf("%.2f", c.A), fmt.Sprintf("%.2f", c.B)}
}
