package colour

import (
	"math"
	"slices"
	"strings"

	"fewtubes/gamut/portable"
)

// Words name a colour as a painter would: how light, how strong, what hue.
type Words struct {
	Value  string // very dark, dark, mid, light, very light
	Chroma Chroma
	Hue    Hue
	Plain  Plain
}

// Chroma is how strong a colour is.
type Chroma string

const (
	Grey   Chroma = "grey"
	Greyed Chroma = "greyed"
	Muted  Chroma = "muted"
	Clear  Chroma = "clear"
	Vivid  Chroma = "vivid"
)

// Hue is one of twelve on the painter's wheel; warm, cool or empty for a grey.
type Hue string

const (
	RedViolet    Hue = "red-violet"
	Red          Hue = "red"
	OrangeRed    Hue = "orange-red"
	Orange       Hue = "orange"
	YellowOrange Hue = "yellow-orange"
	Yellow       Hue = "yellow"
	YellowGreen  Hue = "yellow-green"
	Green        Hue = "green"
	BlueGreen    Hue = "blue-green"
	Blue         Hue = "blue"
	VioletBlue   Hue = "violet-blue"
	Violet       Hue = "violet"
	Warm         Hue = "warm"
	Cool         Hue = "cool"
)

// IsGreen tells the greens: CIELAB hues from 103 to 218 degrees.
func (h Hue) IsGreen() bool { return h == YellowGreen || h == Green || h == BlueGreen }

// Plain is the plainer word where there is one, else empty.
type Plain string

const (
	Ochre     Plain = "ochre"
	Brown     Plain = "brown"
	Olive     Plain = "olive"
	NearBlack Plain = "near black"
	NearWhite Plain = "near white"
)

// String is the name in words, such as "dark muted green", "light cool grey"
// or "warm near white".
func (w Words) String() string {
	words := []string{w.Value, string(w.Chroma), string(w.Hue)}
	switch {
	case w.Chroma == Grey && w.Plain != "":
		words = []string{string(w.Hue), string(w.Plain)}
	case w.Chroma == Grey:
		words = []string{w.Value, string(w.Hue), string(Grey)}
	case w.Plain != "":
		words[2] = string(w.Plain)
	}
	return strings.Join(slices.DeleteFunc(words, func(s string) bool { return s == "" }), " ")
}

// band is one word and the lower bound, inclusive, of what it covers.
type band[T ~string] struct {
	from float64
	word T
}

// The boundaries are common practice, no source: L* in even steps over the
// range a paint film shows (about 24 to 97), chroma so that a paint straight
// from the tube is clear or vivid and a landscape is mostly muted.
var (
	valueBands  = []band[string]{{0, "very dark"}, {30, "dark"}, {45, "mid"}, {60, "light"}, {78, "very light"}}
	chromaBands = []band[Chroma]{{0, Grey}, {4, Greyed}, {12, Muted}, {28, Clear}, {50, Vivid}}
)

// hueBands part the CIELAB hue circle, degrees. Each bound is given with the
// Munsell hue it stands at for value 5, chroma 6 (renotation); which hue begins
// a word is common practice, no source.
var hueBands = []band[Hue]{
	{0, RedViolet},
	{8, Red},           // 9RP
	{41, OrangeRed},    // 9.5R
	{54, Orange},       // 3.5YR
	{68, YellowOrange}, // 7.5YR
	{82, Yellow},       // 2Y
	{103, YellowGreen}, // 10Y
	{130, Green},       // 7.5GY
	{174, BlueGreen},   // 10G
	{218, Blue},        // 3B
	{280, VioletBlue},  // 6.5PB
	{302, Violet},      // 1P
	{329, RedViolet},   // 8.5P
}

// Name puts a colour into words. Chroma below 4 is a grey, called warm or cool
// from 1.5 up when it leans to orange or to blue; near black below L* 27, which
// is as dark as paint gets, and near white from 92.
func Name(c Lab) Words {
	p := c.LCh()
	w := Words{Value: pick(valueBands, p.L), Chroma: pick(chromaBands, p.C)}
	if w.Chroma != Grey {
		w.Hue, w.Plain = pick(hueBands, p.H), earth(p)
		return w
	}
	switch {
	case p.L < 27:
		w.Plain = NearBlack
	case p.L >= 92:
		w.Plain = NearWhite
	}
	w.Hue = Lean(c)
	return w
}

// Lean is Warm or Cool for a colour that leans to orange or to blue, empty for one
// that leans to neither, or of chroma below 1.5.
func Lean(c Lab) Hue {
	p := c.LCh()
	switch {
	case p.C < 1.5:
	case warmth(p.H) >= 0.5:
		return Warm
	case warmth(p.H) <= -0.5:
		return Cool
	}
	return ""
}

// earth is the everyday word for darkened or dulled oranges and yellows, where
// the wheel has no plain one: below value 5 nobody calls a colour yellow, but brown up
// to hue 86 (about Munsell 3.5Y), then olive (bounds are common practice, no source).
func earth(p LCh) Plain {
	within := func(h0, h1, l0, l1, c0, c1 float64) bool {
		return p.H >= h0 && p.H < h1 && p.L >= l0 && p.L < l1 && p.C >= c0 && p.C < c1
	}
	full := math.Inf(1)
	switch {
	case within(68, 90, 45, 72, 28, 62):
		return Ochre
	case within(38, 68, 0, 52, 4, 40), within(68, 86, 0, 52, 4, full):
		return Brown
	case within(86, 103, 0, 50, 4, full), within(103, 112, 0, 50, 4, 40):
		return Olive
	}
	return ""
}

// pick finds the last band that starts at or below v.
func pick[T ~string](bands []band[T], v float64) T {
	word := bands[0].word
	for _, b := range bands {
		if v >= b.from {
			word = b.word
		}
	}
	return word
}

// warmest is the CIELAB hue, degrees, held to be warmest: orange. The coolest
// lies opposite at 240, blue. Common practice, no source.
const warmest = 60

// warmth is 1 at the warmest hue and -1 at the coolest.
func warmth(hue float64) float64 { return portable.Cos((hue - warmest) * math.Pi / 180) }
