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
	Chroma string // grey, greyed, muted, clear, vivid
	Hue    string // one of twelve on the painter's wheel; warm, cool or empty for a grey
	Plain  string // brown, ochre, olive, near black or near white where that is the plainer word, else empty
}

// String is the name in words, such as "dark muted green", "light cool grey"
// or "warm near white".
func (w Words) String() string {
	words := []string{w.Value, w.Chroma, w.Hue}
	switch {
	case w.Chroma == greyWord && w.Plain != "":
		words = []string{w.Hue, w.Plain}
	case w.Chroma == greyWord:
		words = []string{w.Value, w.Hue, greyWord}
	case w.Plain != "":
		words[2] = w.Plain
	}
	return strings.Join(slices.DeleteFunc(words, func(s string) bool { return s == "" }), " ")
}

const greyWord = "grey"

// band is one word and the lower bound, inclusive, of what it covers.
type band struct {
	from float64
	word string
}

// The boundaries are common practice, no source: L* in even steps over the
// range a paint film shows (about 24 to 97), chroma so that a paint straight
// from the tube is clear or vivid and a landscape is mostly muted.
var (
	valueBands  = []band{{0, "very dark"}, {30, "dark"}, {45, "mid"}, {60, "light"}, {78, "very light"}}
	chromaBands = []band{{0, greyWord}, {4, "greyed"}, {12, "muted"}, {28, "clear"}, {50, "vivid"}}
)

// hueBands part the CIELAB hue circle, degrees. Each bound is given with the
// Munsell hue it stands at for value 5, chroma 6 (renotation); which hue begins
// a word is common practice, no source.
var hueBands = []band{
	{0, "red-violet"},
	{8, "red"},            // 9RP
	{41, "orange-red"},    // 9.5R
	{54, "orange"},        // 3.5YR
	{68, "yellow-orange"}, // 7.5YR
	{82, "yellow"},        // 2Y
	{103, "yellow-green"}, // 10Y
	{130, "green"},        // 7.5GY
	{174, "blue-green"},   // 10G
	{218, "blue"},         // 3B
	{280, "violet-blue"},  // 6.5PB
	{302, "violet"},       // 1P
	{329, "red-violet"},   // 8.5P
}

// Name puts a colour into words. Chroma below 4 is a grey, called warm or cool
// from 1.5 up when it leans to orange or to blue; near black below L* 27, which
// is as dark as paint gets, and near white from 92.
func Name(c Lab) Words {
	p := c.LCh()
	w := Words{Value: pick(valueBands, p.L), Chroma: pick(chromaBands, p.C)}
	if w.Chroma != greyWord {
		w.Hue, w.Plain = pick(hueBands, p.H), earth(p)
		return w
	}
	switch {
	case p.L < 27:
		w.Plain = "near black"
	case p.L >= 92:
		w.Plain = "near white"
	}
	switch {
	case p.C < 1.5:
	case warmth(p.H) >= 0.5:
		w.Hue = "warm"
	case warmth(p.H) <= -0.5:
		w.Hue = "cool"
	}
	return w
}

// earth is the everyday word for darkened or dulled oranges and yellows, where
// the wheel has no plain one (bounds are common practice, no source).
func earth(p LCh) string {
	within := func(h0, h1, l0, l1, c0, c1 float64) bool {
		return p.H >= h0 && p.H < h1 && p.L >= l0 && p.L < l1 && p.C >= c0 && p.C < c1
	}
	switch {
	case within(68, 90, 45, 72, 28, 62):
		return "ochre"
	case within(38, 82, 0, 52, 4, 40):
		return "brown"
	case within(88, 112, 0, 50, 8, 40):
		return "olive"
	}
	return ""
}

// pick finds the last band that starts at or below v.
func pick(bands []band, v float64) string {
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
