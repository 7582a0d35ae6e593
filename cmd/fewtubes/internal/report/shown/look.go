package shown

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

// NewLook describes a colour, with its Munsell notation where that is asked for.
func NewLook(c colour.Lab, munsell bool) Look {
	lch := c.LCh()
	out := Look{LabOf(c), Tenths(c.L / 10), Tenths(lch.C), Tenths(lch.H), colour.Name(c).String(), ""}
	if munsell {
		out.Munsell = Munsell(c)
	}
	return out
}

// String is the description without the colour's numbers in CIELAB. A colour
// too near grey to have a hue is given none.
func (l Look) String() string {
	out := fmt.Sprintf("%s, value %s, chroma %s", l.Words, l.Value, l.Chroma)
	if l.Chroma >= 1 {
		out += fmt.Sprintf(", hue %s°", l.Hue)
	}
	if l.Munsell != "" {
		out += ", Munsell " + l.Munsell
	}
	return out
}
