package shown

import "fewtubes/gamut/colour"

// Munsell is the notation of a colour, marked where the renotation has no data
// around it.
func Munsell(c colour.Lab) string {
	m, inside := c.Munsell()
	if !inside {
		return "about " + m.String()
	}
	return m.String()
}

// MunsellNote names the source of the notation and how it was carried over from
// its own light.
func MunsellNote(light string) string {
	out := "Munsell notation by the renotation data (ASTM D1535), carried from illuminant C to D65 by the linear Bradford transform; \"about\" marks what lies outside the data."
	if light != colour.D65().Name {
		out += " Colours under light " + light + " are taken against its white as if under D65."
	}
	return out
}
