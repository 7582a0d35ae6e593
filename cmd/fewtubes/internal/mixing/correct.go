package mixing

import (
	"math"
	"slices"
	"strconv"

	"fewtubes/cmd/fewtubes/internal/hand"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Correction is what to add to a pile.
type Correction struct {
	Have      []Amount
	Predicted colour.Lab  // of the pile, by the film model
	Seen      *colour.Lab // nil: as predicted
	Want      colour.Lab
	LyingDE   float64 // from the pile as it lies to what is wanted
	Tolerance float64

	Add     []Amount // in the parts of Have, three digits, strongest last; empty: nothing helps, or nothing is needed
	Lab     colour.Lab
	DE      float64
	Reached bool
	Added   float64 // volume added to one volume of the pile

	Fresh  Recipe // a new pile, moved by what was seen as the old one is
	Afresh bool   // which wastes less paint: see Correct

	ByHand bool  // the additions are those of a hand
	Ways   []Way // what may be added then, of one paint and of two

	shift colour.Lab // the pile as seen less as predicted
}

// Way is one of the additions of a hand: its parts are those added, its colour that
// of the whole.
type Way struct {
	hand.Recipe
	Add   []Amount // strongest last
	Added float64  // volume added to one volume of the pile
}

// DefaultTolerance is what the model knows: it foretells a mixture with an error of
// about that.
const DefaultTolerance = 2.0

// exactTolerance is less than is seen: a pile is corrected to be right.
const exactTolerance = 0.5

// worthAPile is the CIEDE2000 a new pile must be nearer to be worth its paint:
// about the least that is seen (common practice, no source).
const worthAPile = 1.0

// Correct finds the least addition from the palette, ids of tubes on the table,
// that brings a pile within tolerance, else the nearest. Amounts are rounded to
// three digits so that a target reached stays reached. To start afresh wastes
// less paint when more must be added than lies there and a new pile of the same
// tubes comes as near, or when no addition reaches and a new pile comes nearer
// by more than a unit.
func (t *Table) Correct(have []Amount, want colour.Lab, seen *colour.Lab, palette []string, tolerance float64) (Correction, error) {
	out := Correction{Have: have, Predicted: t.Colour(have), Seen: seen, Want: want, Tolerance: tolerance}
	paints, volumes := t.places(have)
	held := set.New(len(t.Tubes))
	for _, id := range palette {
		held.Add(t.place(id))
	}
	c, err := t.measurable(gamut.Pile{Paints: paints, Amounts: volumes, Seen: seen}, want, held, tolerance)
	if err != nil {
		return out, err
	}
	for i, p := range c.Paints {
		out.Add = append(out.Add, Amount{t.Tubes[p].ID, c.Amounts[i]})
	}
	out.shift = c.Shift
	out.LyingDE = colour.DE2000(out.shifted(out.Predicted), want)
	t.roundAdditions(&out)
	t.sortAdditions(out.Have, out.Add)
	for _, p := range paints {
		held.Add(p)
	}
	aim := colour.Lab{L: want.L - out.shift.L, A: want.A - out.shift.A, B: want.B - out.shift.B}
	fresh := t.mixer.Closest(aim, held, gamut.Search)
	out.Fresh = t.recipe(aim, t.mixer.Recipe(aim, fresh, 0), fresh, 0)
	out.moveFresh()
	out.Afresh = out.freshIsBetter()
	return out, nil
}

// moveFresh tells the colours of the new pile as it will be seen.
func (c *Correction) moveFresh() {
	moved := func(lab *colour.Lab, de *float64) {
		*lab = c.shifted(*lab)
		*de = colour.DE2000(*lab, c.Want)
	}
	moved(&c.Fresh.Lab, &c.Fresh.DE)
	moved(&c.Fresh.Free.Lab, &c.Fresh.Free.DE)
	if let := c.Fresh.LetDown; let != nil {
		moved(&let.Lab, &let.DE)
	}
	if c.Fresh.Hand != nil {
		h := *c.Fresh.Hand
		moved(&h.Lab, &h.DE)
		c.Fresh.Hand = &h
	}
}

func (c *Correction) freshIsBetter() bool {
	fresh := c.Fresh.bestDE()
	if c.Added > 1 && fresh <= max(c.DE+exactTolerance, c.Tolerance) {
		return true
	}
	worth := worthAPile
	if c.ByHand {
		worth = DefaultTolerance // the model knows no better
	}
	return !c.Reached && fresh+worth < c.DE
}

// shifted moves a predicted colour by what the pile was seen to differ.
func (c *Correction) shifted(lab colour.Lab) colour.Lab {
	return colour.Lab{L: lab.L + c.shift.L, A: lab.A + c.shift.A, B: lab.B + c.shift.B}
}

// roundAdditions tries both neighbours of three digits for each paint: of those
// within tolerance the least volume, else the nearest.
func (t *Table) roundAdditions(c *Correction) {
	exact := c.Add
	best := math.Inf(1)
	for choice := range 1 << len(exact) {
		try := slices.Clone(exact)
		added := 0.0
		for i := range try {
			try[i].Parts = threeDigits(exact[i].Parts, choice>>i&1 == 1)
			added += try[i].Parts
		}
		lab := c.shifted(t.Colour(slices.Concat(c.Have, try)))
		de := colour.DE2000(lab, c.Want)
		rank := added
		if de > c.Tolerance {
			rank = 1e9 * (1 + de)
		}
		if portable.Compare(rank, best, portable.Fine) < 0 {
			best = rank
			c.Add, c.Lab, c.DE, c.Reached, c.Added = try, lab, de, de <= c.Tolerance, added/total(c.Have)
		}
	}
}

func threeDigits(v float64, up bool) float64 {
	step := math.Pow10(portable.Decade(v) - 2)
	n := math.Floor(v / step)
	if up {
		n++
	}
	out, err := strconv.ParseFloat(strconv.FormatFloat(n*step, 'e', 3, 64), 64)
	if err != nil { // a float that was just written
		panic(err)
	}
	return out
}

// sortAdditions puts the addition that moves the whole most last.
func (t *Table) sortAdditions(have, add []Amount) {
	whole := slices.Clone(have)
	for _, a := range add {
		if i := slices.IndexFunc(whole, func(w Amount) bool { return w.ID == a.ID }); i >= 0 {
			whole[i].Parts += a.Parts
		} else {
			whole = append(whole, a)
		}
	}
	order, _ := t.Order(whole)
	slices.SortFunc(add, func(a, b Amount) int { return slices.Index(order, a.ID) - slices.Index(order, b.ID) })
}

// WantsFresh reports whether the new pile is worth showing: it wastes less, or
// the addition does not reach.
func (c *Correction) WantsFresh() bool { return c.Afresh || !c.Reached }

// IDs are the tubes a correction speaks of.
func (c *Correction) IDs() []string {
	out := slices.Concat(ids(c.Have), ids(c.Add))
	for _, w := range c.Ways {
		out = append(out, ids(w.Add)...)
	}
	if c.WantsFresh() {
		out = append(out, c.Fresh.IDs()...)
	}
	return out
}

// bestDE is that of the recipe as it is best mixed.
func (r *Recipe) bestDE() float64 {
	switch {
	case r.Hand != nil:
		return r.Hand.DE
	case r.LetDown != nil:
		return r.LetDown.DE
	}
	return r.DE
}

func total(amounts []Amount) (sum float64) {
	for _, a := range amounts {
		sum += a.Parts
	}
	return sum
}
