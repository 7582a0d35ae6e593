package shown

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Sight is how the colours of a document are seen.
type Sight struct {
	Light   string    `json:"light"`
	Surface film.View `json:"surface,omitempty"` // empty: dry, with its glare
}

// SightOf names the light, and the surface where it is not as dried.
func SightOf(light *colour.Light, surface film.Surface) Sight {
	if v := surface.View(); v != film.AsDried {
		return Sight{light.Name, v}
	}
	return Sight{Light: light.Name}
}

// SeenUnder is the light, and the surface where it is not as dried.
func (s Sight) SeenUnder() string {
	if s.Surface == film.NoGlare {
		return "light " + s.Light + ", varnished or lit so that no glare is seen"
	}
	return "light " + s.Light
}
