package film

// Surface holds the Saunderson constants (J. Opt. Soc. Am. 32:727, 1942): K1 is
// the fraction of light reflected on the way in, K2 the fraction of diffuse
// light turned back inside on the way out. Both 0..1.
type Surface struct{ K1, K2 float64 }

// Dry is a dry, unvarnished film seen with its surface glare. The built-in
// tubes are fitted under it.
var Dry = Surface{K1: 0.03, K2: 0.65}

// Seen is the reflectance factor measured above a film whose internal
// reflectance is r (0..1).
func (s Surface) Seen(r float64) float64 {
	return s.K1 + (1-s.K1)*(1-s.K2)*r/(1-float64(s.K2*r))
}

// Inside is the internal reflectance of a film measured as seen; the inverse
// of Seen. Readings below K1 have none and give a negative result.
func (s Surface) Inside(seen float64) float64 {
	d := seen - s.K1
	return d / (float64((1-s.K1)*(1-s.K2)) + float64(s.K2*d))
}
