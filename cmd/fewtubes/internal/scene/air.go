package scene

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/gamut/air"
	"fewtubes/gamut/colour"
)

// Air is the air of a composition and how far off its planes lie.
type Air struct {
	Range    string    `toml:"range" json:"range,omitempty"`       // "20 km", clear, hazy or misty; empty: clear
	Airlight string    `toml:"airlight" json:"airlight,omitempty"` // a colour; empty: the sky at the horizon
	Exponent *float64  `toml:"exponent" json:"exponent,omitempty"` // of the particles, see gamut/air; nil: the usual one
	Hue      air.Hue   `toml:"hue" json:"hue,omitempty"`           // measured or seen; empty: measured
	Planes   Distances `toml:"planes" json:"planes,omitzero"`
}

// Distances are how far off the planes lie, as written: "800 m", "6 km"; empty
// where nothing is said. The sky is as far as the air goes.
type Distances struct {
	Foreground string `toml:"foreground" json:"foreground,omitempty"`
	Middle     string `toml:"middle" json:"middle,omitempty"`
	Distance   string `toml:"distance" json:"distance,omitempty"`
}

// usualDistances are those of a view over open land (common practice, no source).
var usualDistances = Distances{"0 km", "1 km", "6 km"}

// Visual ranges by words, km. Mist and haze end at 5 km and mist begins at 1 km
// in weather reports (WMO-No. 8, Guide to Instruments, from memory); which range
// stands for a word is common practice, no source.
var ranges = map[string]float64{"clear": 20, "hazy": 5, "misty": 2}

// mostDistance is beyond any landscape, km.
const mostDistance = 1000.0

// ParseDistance reads metres or kilometres such as "800 m" or "6 km", in km.
func ParseDistance(text string) (km float64, err error) {
	figure, scale := strings.TrimSpace(text), 1.0
	if cut, found := strings.CutSuffix(figure, "km"); found {
		figure = cut
	} else if cut, found := strings.CutSuffix(figure, "m"); found {
		figure, scale = cut, 1000
	} else {
		return 0, fmt.Errorf("%q is no distance", plain.Short(text))
	}
	km, err = strconv.ParseFloat(strings.TrimSpace(figure), 64)
	switch km /= scale; {
	case err != nil || math.IsNaN(km):
		return 0, fmt.Errorf("%q is no distance", plain.Short(text))
	case km < 0:
		return 0, fmt.Errorf("%q lies below zero", plain.Short(text))
	case km > mostDistance:
		return 0, fmt.Errorf("%q is beyond any landscape", plain.Short(text))
	}
	return km + 0, nil
}

// WriteDistance is a distance as ParseDistance reads it.
func WriteDistance(km float64) string { return number(km) + " km" }

// of is the distance of a plane, km; false where none is written.
func (d *Distances) of(plane string) (km float64, ok bool) {
	text := map[string]string{"foreground": d.Foreground, "middle": d.Middle, "distance": d.Distance}[plane]
	km, err := ParseDistance(text)
	return km, err == nil
}

// Haze is the air as the law has it, clear air where the scene says nothing.
func (s *Scene) Haze() (*air.Air, error) {
	text, exponent := "", air.UsualExponent
	if a := s.Air; a != nil {
		text = strings.TrimSpace(a.Range)
		if a.Exponent != nil {
			exponent = *a.Exponent
		}
	}
	if text == "" {
		text = "clear"
	}
	km, named := ranges[text]
	if !named {
		var err error
		if km, err = ParseDistance(text); err != nil {
			return nil, err
		}
	}
	return air.New(km, exponent)
}

// HueReading is how hues in the distance are taken.
func (s *Scene) HueReading() air.Hue {
	if s.Air == nil || s.Air.Hue == "" {
		return air.Measured
	}
	return s.Air.Hue
}

// Airlight is the colour of the air's light: the one written or else that of the
// sky picked lowest in its picture, or, where none was picked, of the lightest
// sky. from is the target it comes from, empty for the one written.
func (s *Scene) Airlight() (c colour.Lab, from string, err error) {
	if s.Air != nil && s.Air.Airlight != "" {
		c, err = colour.Parse(s.Air.Airlight)
		return c, "", err
	}
	var best *Target
	lower := func(a, b *Target) bool {
		switch {
		case a.At != nil && b.At != nil:
			return a.At.Y > b.At.Y
		case a.At == nil && b.At == nil:
			return a.Lab.L > b.Lab.L
		}
		return a.At != nil
	}
	for i := range s.Targets {
		if t := &s.Targets[i]; t.Plane == "sky" && (best == nil || lower(t, best)) {
			best = t
		}
	}
	if best == nil {
		return c, "", s.wrong("air", "the scene has no sky that the air could have its light from", `write airlight = "lab(78 -2 -6)" under [air]`)
	}
	return best.Lab, best.Name, nil
}

// PlaneKM is how far off a plane of the composition lies; false for the sky and
// for no plane.
func (s *Scene) PlaneKM(plane string) (km float64, ok bool) {
	if s.Air != nil {
		if km, ok := s.Air.Planes.of(plane); ok {
			return km, true
		}
	}
	return usualDistances.of(plane)
}

// SeenKM is the distance at which a target's colour was seen: as noted, or else
// that of the plane it was picked in, there, or 0 for a colour that was typed. It
// is false for what has no distance.
func (s *Scene) SeenKM(t *Target) (km float64, ok bool) {
	if t.Seen != "" {
		km, err := ParseDistance(t.Seen)
		return km, err == nil
	}
	if t.At == nil {
		return 0, true
	}
	plane := t.Plane
	for i := range s.Photos {
		if p := &s.Photos[i]; p.Name == t.At.Photo {
			if there := PlaneAt(p.Planes, t.At.X, t.At.Y); there != "" {
				plane = there
			}
			if km, ok := p.Distances.of(plane); ok {
				return km, true
			}
		}
	}
	return s.PlaneKM(plane)
}

// WayKM is the distance a target's colour was seen at and the one it is to have
// in the composition; false where the air has no say.
func (s *Scene) WayKM(t *Target) (from, to float64, ok bool) {
	from, ok = s.SeenKM(t)
	to, has := s.PlaneKM(t.Plane)
	return from, to, ok && has
}

const remedyDistance = `write it as in "800 m" or "6 km"`

func (s *Scene) checkAir() error {
	a := s.Air
	if a == nil {
		return nil
	}
	if _, err := s.Haze(); err != nil {
		field, remedy := "air.range", `write range = "20 km", or clear, hazy or misty`
		if a.Exponent != nil && !(*a.Exponent >= 0 && *a.Exponent <= air.MostExponent) {
			field, remedy = "air.exponent", "leave it out for 1.3"
		}
		return s.wrong(field, err.Error(), remedy)
	}
	if _, err := air.ParseHue(string(a.Hue)); err != nil {
		return s.wrong("air.hue", fmt.Sprintf("unknown reading of hue %q", plain.Short(string(a.Hue))), "use measured or seen")
	}
	if a.Airlight != "" {
		c, err := colour.Parse(a.Airlight)
		if err == nil && !c.Finite() {
			err = errors.New("the colour is not a number; write it as in lab(78 -2 -6)")
		}
		if err != nil {
			return s.wrong("air.airlight", err.Error(), "") // it ends with how to mend it
		}
	}
	if err := s.checkDistances("air.planes", &a.Planes); err != nil {
		return err
	}
	near, _ := s.PlaneKM("foreground")
	middle, _ := s.PlaneKM("middle")
	if far, _ := s.PlaneKM("distance"); near > middle || middle > far {
		return s.wrong("air.planes", fmt.Sprintf("foreground %s km, middle %s km and distance %s km do not lie one behind the other", number(near), number(middle), number(far)),
			"write distances that rise")
	}
	return nil
}

func (s *Scene) checkDistances(path string, d *Distances) error {
	for _, plane := range []struct{ name, text string }{{"foreground", d.Foreground}, {"middle", d.Middle}, {"distance", d.Distance}} {
		if plane.text == "" {
			continue
		}
		if _, err := ParseDistance(plane.text); err != nil {
			return s.wrong(path+"."+plane.name, err.Error(), remedyDistance)
		}
	}
	return nil
}
