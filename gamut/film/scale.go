package film

import "fewtubes/gamut/colour"

// Scale is what K and S are counted in. They hold under the surface they were
// fitted with and no other, and as 1 they count, band by band, what the white
// scatters in a millimetre of dry film.
type Scale struct {
	Surface Surface
	WhiteMM [colour.Bands]float64 // S of the paint that scatters 1, per mm
}

// Film is the reflectance factor of a film of the paint, micrometres thick when dry,
// over a ground; film and ground as seen through the surface.
func (s *Scale) Film(p *Paint, micrometres float64, ground *colour.Spectrum) (seen colour.Spectrum) {
	mm := micrometres / 1000
	for b := range seen {
		inside := min(max(s.Surface.Inside(ground[b]), 0), 1)
		seen[b] = s.Surface.Seen(Over(p.K[b], p.S[b], mm*s.WhiteMM[b], inside))
	}
	return seen
}
