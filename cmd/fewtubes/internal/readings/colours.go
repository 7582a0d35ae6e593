package readings

import (
	"fmt"
	"strings"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// SeenBy is how a colour was come by.
type SeenBy string

const (
	Instrument SeenBy = "instrument"
	Chip       SeenBy = "chip"   // matched by eye
	Camera     SeenBy = "camera" // beside a grey card
)

// usualNoise of each, root mean square CIEDE2000 (common practice, no source).
var usualNoise = map[SeenBy]float64{Instrument: 0.5, Chip: 2, Camera: 3}

// mostNoise is that of a colour that says nothing.
const mostNoise = 30.0

// ParseSeenBy reads instrument, chip or camera, nothing being an instrument; ok is
// false for other words.
func ParseSeenBy(text string) (by SeenBy, ok bool) {
	by = SeenBy(strings.ToLower(strings.TrimSpace(text)))
	if by == "" {
		by = Instrument
	}
	_, ok = usualNoise[by]
	return by, ok
}

// Noise is what a colour come by so is usually off.
func (by SeenBy) Noise() float64 { return usualNoise[by] }

// CheckNoise reports whether a noise may be one.
func CheckNoise(v float64) bool { return v >= 0 && v <= mostNoise }

// HasColours reports whether a sample was read as a colour alone.
func (set *Set) HasColours() bool {
	for i := range set.Samples {
		if set.Samples[i].Lab != nil {
			return true
		}
	}
	return false
}

// Colour is what the sample looks like, D65.
func (s *Sample) Colour() colour.Lab {
	if s.Lab != nil {
		return *s.Lab
	}
	level := film.Level(s.Seen, &s.Have)
	return colour.D65().Lab(&level)
}

// judge reads the colour of a raw sample, if it has one, and how far it may be off; msg
// says what is wrong.
func (r *raw) judge(s *Sample) (msg, remedy string) {
	var ok bool
	if s.By, ok = ParseSeenBy(r.seenBy); !ok {
		return fmt.Sprintf("seen by %q is not known", clip(r.seenBy)), "write instrument, chip or camera, or nothing for an instrument"
	}
	s.Noise = s.By.Noise()
	if r.noise != "" {
		v, err := parseValue(r.noise)
		if err != nil || !CheckNoise(v) {
			return fmt.Sprintf("the noise %q is no number from 0 to %g", clip(r.noise), mostNoise), "write how far the colour may be off, CIEDE2000, or nothing"
		}
		s.Noise = v
	}
	text := r.colour
	switch {
	case len(r.values) > 0:
		return "", ""
	case text == "" && r.lab == [3]string{}:
		return "it has neither a spectrum nor a colour", "write its L, a, b or its colour, such as 5G 4/2"
	case text == "":
		var lab [3]float64
		for i, name := range []string{"L", "a", "b"} {
			v, err := parseValue(r.lab[i])
			if err != nil {
				return fmt.Sprintf("%s %q is not a number", name, clip(r.lab[i])), "write L, a and b, such as 45, -12 and 22"
			}
			lab[i] = v
		}
		text = fmt.Sprintf("lab(%g %g %g)", lab[0], lab[1], lab[2])
	}
	lab, err := colour.Parse(text)
	if err != nil {
		return err.Error(), "write a colour as a scene has it, such as lab(45 -12 22) or 5G 4/2"
	}
	s.Lab = &lab
	return "", ""
}
