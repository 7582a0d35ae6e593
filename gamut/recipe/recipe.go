package recipe

import (
	"fewtubes/gamut/colour"
)

// Ingredient is a tube or a pile.
type Ingredient struct {
	Paint int // of a pile: the strong one
	Into  int // the paint it is let down in; a tube: 0
	Ratio int // volumes of Into to one of Paint; a tube: 0
}

// LetDown reports whether the ingredient is a pile.
func (i Ingredient) LetDown() bool { return i.Ratio > 0 }

// Ratios are those in which a tube is let down, the usual first (common practice,
// no source).
var Ratios = [...]int{10, 5, 30}

// Part is so much of an ingredient.
type Part struct {
	Ingredient
	Quarters int // of a part by volume; 1 is a touch, 2 and 3 are so many, everything else a multiple of 4

	// Overdone is, of a touch, the colour when twice as much is taken.
	Overdone colour.Lab
}

// touch is the quarters in a touch: what clings to the tip of a knife, beside a
// part of some ten times that area (common practice, no source).
const touch = 1

// Touch reports whether the part is a touch, or touches.
func (p Part) Touch() bool { return p.Quarters < 4*touch }

// Volume is the part as a number of parts.
func (p Part) Volume() float64 { return float64(p.Quarters) / 4 }

// Kind is what has to be done before a recipe is put together.
type Kind int

const (
	Straight   Kind = iota // nothing: tubes and touches of tubes
	Prepared               // piles prepared for the whole palette are used
	OwnLetDown             // a tube is let down for this mix alone
)

func (k Kind) String() string {
	return [...]string{"straight", "prepared", "own let-down"}[k]
}

// Recipe is a mix in parts.
type Recipe struct {
	Parts  []Part // the largest first, touches last; empty: there is no paint
	Kind   Kind
	Paints int // tubes in it, those in its piles included
	Lab    colour.Lab
	DE     float64 // CIEDE2000 of these parts to the target
	Within bool    // the tolerance; else this is about the nearest that parts come
}

// Total is the number of parts of all ingredients together; a touch counts a quarter.
func (r *Recipe) Total() float64 {
	quarters := 0
	for _, p := range r.Parts {
		quarters += p.Quarters
	}
	return float64(quarters) / 4
}

// Target is a colour to mix.
type Target struct {
	Lab       colour.Lab
	Tolerance float64 // CIEDE2000, > 0
}
