package search

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/set"
)

// Redrawn are the same paints with other K and S, as they may be from other makers.
// Searches start from the pairs that look near with the paints as they stood: where
// a mix lies has moved a little, where to begin has not, and the bank is the dearest
// part of a list of paints.
func (m *Paints) Redrawn(paints []film.Paint) *Paints {
	out := &Paints{
		films: paints, bands: make([]kernel.Paint, len(paints)), scale: make([]float64, len(paints)),
		surface: m.surface, light: m.light, optics: m.optics, limit: m.limit,
		bank: m.bank, alike: m.alike, pool: m.pool,
	}
	for i := range paints {
		out.bands[i], out.scale[i] = kernel.Scaled(&paints[i])
	}
	return out
}

const (
	stride  = 4  // iterations between two looks at whether a mix is near enough
	strides = 10 // of a descent
)

// Remixes reports whether a palette of these paints comes within a tolerance, in
// CIEDE2000, of a target. near is a mix of the paints as they stood, in their scaled
// amounts, that did: nearly always the same paints do again in other amounts. Only
// else is there a search, with an effort.
func (m *Paints) Remixes(target colour.Lab, palette set.Set, near Scaled, tolerance float64, effort Effort) bool {
	w := m.workspace()
	defer m.pool.Put(w)
	w.begin(target, palette)
	if w.holds = nil; len(w.members) == 0 {
		return false
	}
	if w.resettle(near, tolerance) {
		return true
	}
	w.run(palette, tolerance, effort)
	return w.best.squared <= w.enough
}

// Again reports whether the paints of near come within a tolerance again.
func (m *Paints) Again(target colour.Lab, near Scaled, tolerance float64) bool {
	w := m.workspace()
	defer m.pool.Put(w)
	w.begin(target, nil)
	return w.resettle(near, tolerance)
}

// Resettles is Remixes without the search: the paints of near, and what paints of
// the palette enter.
func (m *Paints) Resettles(target colour.Lab, palette set.Set, near Scaled, tolerance float64) bool {
	w := m.workspace()
	defer m.pool.Put(w)
	w.begin(target, palette)
	if w.resettle(near, tolerance) {
		return true
	}
	if len(w.list) == 0 {
		return false
	}
	w.settle()
	return w.aim.Squared <= w.enough
}

// resettle descends from a mix until it is near enough, and reports whether it is.
func (w *workspace) resettle(near Scaled, tolerance float64) bool {
	w.enough = max(met, tolerance*tolerance*(1-1e-9))
	if len(near.Paints) == 0 {
		w.list = w.list[:0]
		return false
	}
	w.list, w.amount = append(w.list[:0], near.Paints...), append(w.amount[:0], near.Amounts...)
	w.evaluate()
	for range strides {
		before := w.aim.Squared
		if before <= w.enough {
			return true
		}
		if w.descend(stride); before-w.aim.Squared < leastGain*before {
			break
		}
	}
	w.dropNothing()
	return w.aim.Squared <= w.enough
}

// Scaled is a mix in scaled amounts, sum 1: a paint that is drawn stronger has the
// same scaled amount at a smaller volume.
type Scaled struct {
	Paints  []int // ascending
	Amounts []float64
}

// Scaled is a mix in the amounts of these paints.
func (m *Paints) Scaled(mix *Mix) Scaled {
	out := Scaled{mix.Paints, make([]float64, len(mix.Paints))}
	for i, p := range mix.Paints {
		out.Amounts[i] = mix.Shares[i] * m.scale[p]
	}
	if len(out.Amounts) > 0 {
		normalise(out.Amounts)
	}
	return out
}
