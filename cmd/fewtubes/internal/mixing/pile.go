package mixing

import "fewtubes/gamut/colour"

// Pile is paint lying on the palette.
type Pile struct {
	Amounts []Amount
	Lab     colour.Lab
	White   string // id of the white of the ladder; empty: there is none
	Ladder  []Rung // the pile let down, lightest last
}

// Rung is a tint of a pile.
type Rung struct {
	White float64 // volumes of white to one volume of the pile, > 0
	Lab   colour.Lab
}

// rungs are the tints of a ladder: 1, 2, 4, 8 and 16 volumes of white.
const rungs = 5

// Pile is what amounts of tubes on the table look like, and their tints with a
// white. A pile of that white alone, or an empty white, has no ladder.
func (t *Table) Pile(amounts []Amount, white string) Pile {
	out := Pile{Amounts: amounts, Lab: t.Colour(amounts)}
	if white == "" || (len(amounts) == 1 && amounts[0].ID == white) {
		return out
	}
	out.White = white
	paints, volumes := t.places(amounts)
	for _, tint := range t.mixer.TintLadder(paints, volumes, t.place(white), rungs)[1:] {
		out.Ladder = append(out.Ladder, Rung{tint.White, tint.Lab})
	}
	return out
}

// IDs are the tubes of the pile, and the white of its ladder.
func (p *Pile) IDs() []string {
	out := ids(p.Amounts)
	if p.White != "" {
		out = append(out, p.White)
	}
	return out
}
