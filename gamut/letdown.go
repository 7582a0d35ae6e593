package gamut

import (
	"math"
	"slices"

	"fewtubes/gamut/colour"
)

// partsLoss is what whole parts may lose against free amounts before a strong
// tinter is better let down first.
const partsLoss = 1.0

// LetDown is a recipe in which one strong tinter is first let down: one volume
// of Tinter in Ratio volumes of Base, and that mixture measured out by parts.
type LetDown struct {
	Tinter, Base, Ratio int
	LetParts            int   // of the let-down paint, >= 1
	Paints              []int // the other ingredients, ascending; Base may be among them
	Parts               []int // of these, >= 1
	Lab                 colour.Lab
	DE                  float64
}

// letDownRatios are tried in turn; one in ten is the usual.
var letDownRatios = [...]int{10, 5, 20, 40}

// LetDown looks for a way to measure mix out when its whole parts r lose more
// than a unit of CIEDE2000 against it: each paint let down 1:10 (else 1:5, 1:20
// or 1:40) in white, if the mix holds white (its index, or -1), or in another
// paint of the mix. ok is false when the parts are good enough as they are or
// nothing is gained. The first ratio that loses less than a unit is taken.
func (m *Mixer) LetDown(target colour.Lab, mix Mix, r Recipe, white, maxTotal int) (best LetDown, ok bool) {
	if len(mix.Paints) < 2 || r.DE <= mix.DE+partsLoss {
		return best, false
	}
	if maxTotal <= 0 {
		maxTotal = DefaultPartsTotal
	}
	best.DE = r.DE
	for _, ratio := range letDownRatios {
		for _, tinter := range mix.Paints {
			for _, base := range mix.Paints {
				if base == tinter || (base != white && slices.Contains(mix.Paints, white) && tinter != white) {
					continue
				}
				if l := m.letDown(target, mix, tinter, base, ratio, maxTotal); l.DE < best.DE-1e-9 {
					best, ok = l, true
				}
			}
		}
		if best.DE <= mix.DE+partsLoss {
			break
		}
	}
	return best, ok
}

// letDown is the best recipe with one tinter let down in one base. The base may
// be measured out besides, or all of it may come with the tinter.
func (m *Mixer) letDown(target colour.Lab, mix Mix, tinter, base, ratio, most int) LetDown {
	best := LetDown{Tinter: tinter, Base: base, Ratio: ratio, DE: math.Inf(1)}
	for _, withBase := range [...]bool{true, false} {
		var others []int
		for _, p := range mix.Paints {
			if p != tinter && (p != base || withBase) {
				others = append(others, p)
			}
		}
		parts := m.divideLetDown(target, mix, others, best, most)
		if parts == nil {
			continue
		}
		l := LetDown{Tinter: tinter, Base: base, Ratio: ratio, LetParts: parts[len(others)], Paints: others, Parts: parts[:len(others)]}
		list, amounts := l.Amounts()
		l.Lab = m.Evaluate(list, amounts)
		l.DE = colour.DE2000(l.Lab, target)
		if l.DE < best.DE {
			best = l
		}
	}
	return best
}

// divideLetDown divides the other paints and, last, the let-down one.
func (m *Mixer) divideLetDown(target colour.Lab, mix Mix, others []int, l LetDown, most int) []int {
	if len(others)+1 > most {
		return nil
	}
	d := divider{aim: newResidual(target), optics: &m.optics, most: min(most, len(logs)-1)}
	free := make([]float64, 0, len(others)+1)
	for _, p := range others {
		d.paint, d.volume = append(d.paint, m.bands[p]), append(d.volume, m.scale[p])
		free = append(free, shareOf(mix, p)*m.scale[p])
	}
	var let point
	weak := float64(l.Ratio)
	let.add(&m.bands[l.Tinter], m.scale[l.Tinter]/(1+weak))
	let.add(&m.bands[l.Base], m.scale[l.Base]*weak/(1+weak))
	d.paint, d.volume = append(d.paint, let.sum), append(d.volume, 1)
	taken := shareOf(mix, l.Tinter) * (1 + weak)
	free = append(free, taken)
	for i, p := range others {
		if p == l.Base {
			free[i] = max(free[i]-taken*weak/(1+weak)*m.scale[p], 0)
		}
	}
	return d.best(free)
}

func shareOf(mix Mix, p int) float64 {
	if i := slices.Index(mix.Paints, p); i >= 0 {
		return mix.Shares[i]
	}
	return 0
}

// Amounts is the whole in plain paints: ascending, with volumes in parts.
func (l *LetDown) Amounts() (paints []int, volumes []float64) {
	paints = slices.Clone(l.Paints)
	volumes = floats(l.Parts)
	put := func(p int, v float64) {
		i, found := slices.BinarySearch(paints, p)
		if !found {
			paints, volumes = slices.Insert(paints, i, p), slices.Insert(volumes, i, 0)
		}
		volumes[i] += v
	}
	weak := float64(l.Ratio)
	put(l.Tinter, float64(l.LetParts)/(1+weak))
	put(l.Base, float64(l.LetParts)*weak/(1+weak))
	return paints, volumes
}
