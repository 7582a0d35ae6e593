package film

import "fmt"

// Surface holds the Saunderson constants (J. Opt. Soc. Am. 32:727, 1942): K1 is
// the fraction of light reflected on the way in, K2 the fraction of diffuse
// light turned back inside on the way out. Both 0..1.
type Surface struct {
	K1 float64 `json:"k1"`
	K2 float64 `json:"k2"`
}

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

// View is how a painter looks at a dried film, and an instrument too.
type View string

const (
	AsDried View = "dry"      // with the glare of its surface
	NoGlare View = "no-glare" // varnished, or lit so that its glare goes elsewhere
)

// ParseView reads dry or no-glare; nothing stands for dry.
func ParseView(name string) (View, error) {
	switch v := View(name); v {
	case "", AsDried:
		return AsDried, nil
	case NoGlare:
		return v, nil
	}
	return "", fmt.Errorf("unknown surface %q; use dry or no-glare", name)
}

// View is how the surface is looked at.
func (s Surface) View() View {
	if s.K1 == 0 {
		return NoGlare
	}
	return AsDried
}

// Viewed is the surface as it is looked at. Without glare the fraction K1 goes
// past the eye, and a white under the same surface is what the eye takes for
// white: so whites stay and darks deepen.
func (s Surface) Viewed(v View) Surface {
	if v == NoGlare {
		s.K1 = 0
	}
	return s
}
