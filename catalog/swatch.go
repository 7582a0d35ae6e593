package catalog

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// SwatchParts of white to one of the tube make the tint of a Swatch.
const SwatchParts = 9

// Swatch is what a tube looks like painted out.
type Swatch struct {
	Masstone colour.Lab
	Tint     colour.Lab // one part in SwatchParts of white
	// TintingStrength is how far the tint lies from the white it is made with,
	// CIEDE2000. A strong tinter stands over 25, a weak one below 15.
	TintingStrength float64
}

// NewSwatch paints a tube out, opaque, with the given white.
func NewSwatch(t *Tube, white *film.Paint, light *colour.Light, surface film.Surface) Swatch {
	masstone, bare := t.Paint.Masstone(surface), white.Masstone(surface)
	tint := t.Paint.Tint(white, SwatchParts, surface)
	s := Swatch{Masstone: light.Lab(&masstone), Tint: light.Lab(&tint)}
	s.TintingStrength = colour.DE2000(s.Tint, light.Lab(&bare))
	return s
}
