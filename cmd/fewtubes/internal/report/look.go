package report

import (
	"fmt"

	"fewtubes/gamut/colour"
)

// Look is a colour and how a painter describes it.
type Look struct {
	Lab     Lab    `json:"lab"`
	Value   Tenths `json:"value"`  // L*/10
	Chroma  Tenths `json:"chroma"` // CIELAB
	Hue     Tenths `json:"hue"`    // CIELAB, degrees; 0 for a neutral
	Words   string `json:"words"`
	Munsell string `json:"munsell,omitempty"`
}

// newLook describes a colour, with its Munsell notation where that is asked for.
func newLook(c colour.Lab, munsell bool) Look {
	lch := c.LCh()
	out := Look{shownLab(c), Tenths(c.L / 10), Tenths(lch.C), Tenths(lch.H), colour.Name(c).String(), ""}
	if munsell {
		out.Munsell = munsellOf(c)
	}
	return out
}

// String is the description without the colour's numbers in CIELAB.
func (l Look) String() string {
	out := fmt.Sprintf("%s, value %s, chroma %s, hue %s°", l.Words, l.Value, l.Chroma, l.Hue)
	if l.Munsell != "" {
		out += ", Munsell " + l.Munsell
	}
	return out
}

// munsellOf is the notation of a colour, marked where the renotation has no data
// around it.
func munsellOf(c colour.Lab) string {
	m, inside := c.Munsell()
	if !inside {
		return "about " + m.String()
	}
	return m.String()
}

// munsellNote names the source of the notation and how it was carried over from
// its own light.
func munsellNote(light string) string {
	out := "Munsell notation by the renotation data (ASTM D1535), carried from illuminant C to D65 by the linear Bradford transform; \"about\" marks what lies outside the data."
	if light != colour.D65().Name {
		out += " Colours under light " + light + " are taken against its white as if under D65."
	}
	return out
}
