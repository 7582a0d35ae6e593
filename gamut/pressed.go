package gamut

import (
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Wanted is a colour and the CIEDE2000 within which it counts as reached.
type Wanted struct {
	Lab       colour.Lab
	Tolerance float64
}

const (
	pressedWithin = 0.15 // CIEDE2000 kept free of a tolerance, for colours are written to a tenth
	pressedStep   = 0.05 // precision of a chroma, CIELAB
	pressedKnee   = 0.7  // of the chroma a family reaches: below, what is pressed is left room
	mostShift     = 40   // L*, and degrees of hue, that a colour is moved by at most
)

// Pressed moves colours into what the palette mixes, each within its tolerance.
// What is reached stays. Of the others lightness and hue are kept and chroma is
// pressed: within each hue of colour.Name their order is kept, among themselves and
// with those that stay, and so is the proportion of their differences where the
// palette leaves room. Where no chroma serves, lightness and hue become those of the
// nearest mix; where they leave no room for the order, they are moved as little as
// does, the lightness first.
func (m *Mixer) Pressed(wanted []Wanted, palette set.Set) []colour.Lab {
	out := make([]colour.Lab, len(wanted))
	families := map[colour.Hue][]pressing{}
	var hues []colour.Hue // in the order met
	for i, w := range wanted {
		out[i] = w.Lab
		p := pressing{index: i, LCh: w.Lab.LCh()}
		p.stays = m.reaches(w, w.Lab, palette)
		if !p.stays {
			m.bound(w, &p, palette)
		}
		hue := colour.Name(w.Lab).Hue
		if families[hue] == nil {
			hues = append(hues, hue)
		}
		families[hue] = append(families[hue], p)
	}
	for _, hue := range hues {
		m.pressFamily(wanted, families[hue], palette, out)
	}
	return out
}

// pressing is a colour on its way.
type pressing struct {
	colour.LCh
	index int
	stays bool
	most  float64 // chroma within reach
}

func (m *Mixer) reaches(w Wanted, c colour.Lab, palette set.Set) bool {
	_, ok := m.Within(c, palette, w.Tolerance, Search)
	return ok
}

// bound finds the most chroma that a colour may have.
func (m *Mixer) bound(w Wanted, p *pressing, palette set.Set) {
	most, ok := m.mostChroma(w, p.LCh, palette)
	if !ok {
		near := m.Closest(w.Lab, palette, Search).Lab.LCh()
		p.L, p.H, most = near.L, near.H, min(near.C, p.C)
	}
	p.most = most
}

// mostChroma is the largest chroma, at most the one given, that is within reach at
// a lightness and hue.
func (m *Mixer) mostChroma(w Wanted, p colour.LCh, palette set.Set) (chroma float64, ok bool) {
	inside := Wanted{Tolerance: w.Tolerance - min(pressedWithin, w.Tolerance/10)}
	at := func(c float64) bool {
		p.C = c
		return m.reaches(inside, p.Lab(), palette)
	}
	lo, hi := 0.0, p.C
	if at(hi) {
		return hi, true
	}
	// Where grey itself is out of reach a chroma between may be within it.
	for _, share := range []float64{0, 0.25, 0.5, 0.75} {
		if start := share * hi; at(start) {
			lo, ok = start, true
			break
		}
	}
	if !ok {
		return 0, false
	}
	for hi-lo > pressedStep {
		if middle := (lo + hi) / 2; at(middle) {
			lo = middle
		} else {
			hi = middle
		}
	}
	return lo, true
}

// pressFamily presses the colours of one hue, those of most chroma first, between
// the ones that stay.
func (m *Mixer) pressFamily(wanted []Wanted, family []pressing, palette set.Set, out []colour.Lab) {
	slices.SortStableFunc(family, func(a, b pressing) int { return portable.Compare(a.C, b.C, portable.Fine) })
	for from := 0; from < len(family); {
		if family[from].stays {
			from++
			continue
		}
		to := from
		for to < len(family) && !family[to].stays {
			to++
		}
		low, high := 0.0, math.Inf(1)
		if from > 0 {
			low = family[from-1].C
		}
		if to < len(family) {
			high = family[to].C
		}
		m.pressBetween(wanted, family[from:to], low, high, palette)
		for _, p := range family[from:to] {
			out[p.index] = p.Lab()
		}
		from = to
	}
}

// pressBetween presses colours in a row between a chroma that stays below them and
// one above.
func (m *Mixer) pressBetween(wanted []Wanted, row []pressing, low, high float64, palette set.Set) {
	least := high
	for i := range row {
		m.makeRoom(wanted[row[i].index], &row[i], low, palette)
		least = min(least, row[i].most)
	}
	knee := max(low, pressedKnee*least)
	above, was := high, math.Inf(1)
	for i := len(row) - 1; i >= 0; i-- {
		p := &row[i]
		c := p.C
		most := min(p.most, above)
		if !math.IsInf(was, 1) && was > knee {
			most = min(most, knee+float64((above-knee)*((c-knee)/(was-knee))))
		}
		p.C = max(0, min(c, most))
		above, was = p.C, c
	}
}

// makeRoom moves lightness and hue as little as gives the colour more than the
// chroma that stays below it, where anything does.
func (m *Mixer) makeRoom(w Wanted, p *pressing, low float64, palette set.Set) {
	if p.most > low {
		return
	}
	for step := 1.0; step <= mostShift; step++ {
		for _, hue := range []float64{0, step} {
			best := *p
			for _, side := range [][2]float64{{-1, -1}, {-1, 1}, {1, -1}, {1, 1}} {
				at := colour.LCh{L: p.L + float64(side[0]*step), C: p.C, H: p.H + float64(side[1]*hue)}
				if most, ok := m.mostChroma(w, at, palette); ok && most > best.most {
					best.LCh, best.most = at, most
				}
			}
			if best.most > low {
				*p = best
				return
			}
		}
	}
}
