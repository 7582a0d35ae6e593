package gamut

import (
	"errors"
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/search"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Pile is paint lying on the palette.
type Pile struct {
	Paints  []int
	Amounts []float64   // volumes, > 0, on any common scale
	Seen    *colour.Lab // what it was seen to be; nil: as the film model has it
}

// Correction is what to add to a pile. Nothing can be taken away.
type Correction struct {
	Paints  []int     // to add, ascending; empty when the pile will do
	Amounts []float64 // volumes on the scale of the pile, > 0
	Lab     colour.Lab
	DE      float64 // to the target
	Reached bool    // within the tolerance
	Added   float64 // volume added to one volume of pile

	// Afresh is the nearest mix made from nothing, shifted as the pile is.
	// AfreshLess says that it wastes less paint: to mend the pile takes more
	// paint than lies there, or fails where a new mix succeeds.
	Afresh     Mix
	AfreshLess bool

	Shift colour.Lab // the pile as seen less as predicted
}

// mostAdded is the most that is added to one volume of pile.
const mostAdded = 8

// ErrPile is wrapped by every refusal of a pile.
var ErrPile = errors.New("this is not a pile of paint")

// Correct finds the least volume of the palette's paints that brings the pile
// within tolerance of the target (CIEDE2000, >= 0), of at most PaintsPerMix+1
// paints and eight times the pile; where none does, the addition that comes
// nearest, and of those the least. The model is first shifted in CIELAB by the
// difference between the pile as seen and as predicted, for the pile, for
// whatever is added to it and for a mix made afresh.
func (m *Mixer) Correct(pile Pile, target colour.Lab, palette set.Set, tolerance float64) (Correction, error) {
	total, err := m.checkPile(pile)
	if err != nil {
		return Correction{}, err
	}
	c := corrector{m: m, pile: pile, total: total, target: target, members: palette.Members(), tolerance: max(tolerance, 0)}
	c.lie()
	out := c.least()
	out.Afresh = c.afresh(palette)
	out.AfreshLess = out.Added > 1 || (!out.Reached && out.Afresh.DE <= tolerance)
	return out, nil
}

func (m *Mixer) checkPile(pile Pile) (total float64, err error) {
	if len(pile.Paints) == 0 || len(pile.Paints) != len(pile.Amounts) {
		return 0, ErrPile
	}
	for i, a := range pile.Amounts {
		if p := pile.Paints[i]; p < 0 || p >= m.Len() || !(a > 0) || math.IsInf(a, 0) {
			return 0, ErrPile
		}
		total += a
	}
	return total, nil
}

// corrector asks the closest mix of made-up paints: one volume of pile, and one
// volume of pile with v volumes of each paint. What these mix to is just what
// up to v volumes of additions can do, so the least v is found by bisection.
type corrector struct {
	m         *Mixer
	pile      Pile
	total     float64
	target    colour.Lab
	shift     colour.Lab // seen less predicted
	members   []int
	tolerance float64
	lying     film.Paint // the pile, one volume
}

func (c *corrector) lie() {
	for i, p := range c.pile.Paints {
		addFilm(&c.lying, c.m.search.Film(p), c.pile.Amounts[i]/c.total)
	}
	if c.pile.Seen != nil {
		is := c.m.Evaluate(c.pile.Paints, c.pile.Amounts)
		seen := *c.pile.Seen
		c.shift = colour.Lab{L: seen.L - is.L, A: seen.A - is.A, B: seen.B - is.B}
	}
}

func addFilm(sum, paint *film.Paint, amount float64) {
	for b := range sum.K {
		sum.K[b] += float64(amount * paint.K[b])
		sum.S[b] += float64(amount * paint.S[b])
	}
}

// nearSteps and nearEnough steer the bisection: by how many steps, and how much
// nearness may be given up for a smaller addition when the target is out of
// reach.
const (
	nearSteps  = 24
	nearEnough = 0.05
)

// least is the smallest addition that reaches the tolerance, or else the
// nearest addition.
func (c *corrector) least() Correction {
	nothing := c.within(0)
	if nothing.Reached {
		return nothing
	}
	best := c.within(mostAdded)
	goal := c.tolerance
	if !best.Reached {
		goal = best.DE + nearEnough
	}
	lo, hi := portable.Log(1e-4), portable.Log(mostAdded)
	if nothing.DE <= goal {
		return nothing
	}
	for range nearSteps {
		mid := (lo + hi) / 2
		if try := c.within(portable.Exp(mid)); try.DE <= goal {
			best, hi = try, min(mid, portable.Log(max(try.Added, 1e-4)))
		} else {
			lo = mid
		}
		if hi-lo < 1e-3 {
			break
		}
	}
	return best
}

// within is the nearest the pile comes with at most v volumes added to one.
func (c *corrector) within(v float64) Correction {
	paints := []film.Paint{c.lying}
	for _, p := range c.members {
		if v == 0 {
			break
		}
		made := c.lying
		addFilm(&made, c.m.search.Film(p), v)
		paints = append(paints, made)
	}
	made := Mixer{c.m.search.Of(paints, c.m.PaintsPerMix()+1)}
	mix := made.Closest(c.unshifted(), set.Full(len(paints)), Search)
	return c.correction(mix, v)
}

func (c *corrector) afresh(palette set.Set) Mix {
	mix := c.m.Closest(c.unshifted(), palette, Search)
	mix.Lab = c.shifted(mix.Lab)
	mix.DE = colour.DE2000(mix.Lab, c.target)
	return mix
}

func (c *corrector) unshifted() colour.Lab {
	return colour.Lab{L: c.target.L - c.shift.L, A: c.target.A - c.shift.A, B: c.target.B - c.shift.B}
}

func (c *corrector) shifted(lab colour.Lab) colour.Lab {
	return colour.Lab{L: lab.L + c.shift.L, A: lab.A + c.shift.A, B: lab.B + c.shift.B}
}

// correction reads the made-up mix as additions, left out where they are a
// trace, and evaluates pile and additions together.
func (c *corrector) correction(mix Mix, v float64) Correction {
	var out Correction
	list, amounts := slices.Clone(c.pile.Paints), slices.Clone(c.pile.Amounts)
	for i, p := range mix.Paints {
		if p == 0 {
			continue
		}
		amount := float64(mix.Shares[i] * v) // the shares sum to one volume of pile
		if amount < search.TraceShare/10 {
			continue
		}
		out.Added += amount
		out.Paints, out.Amounts = append(out.Paints, c.members[p-1]), append(out.Amounts, amount*c.total)
	}
	list, amounts = append(list, out.Paints...), append(amounts, out.Amounts...)
	out.Shift = c.shift
	out.Lab = c.shifted(c.m.Evaluate(list, amounts))
	out.DE = colour.DE2000(out.Lab, c.target)
	out.Reached = out.DE <= c.tolerance
	return out
}
