package search

import "fewtubes/gamut/internal/kernel"

import "fewtubes/gamut/colour"

// Pulls tells, for every paint, what a little of it would do to a mix: the
// squared CIEDE2000 to the target that it promises to take away, by the slopes at
// the mix, the amounts of the others held in proportion. It is negative for a
// paint that leads away from the target, and only as good as a straight line is.
func (m *Paints) Pulls(target colour.Lab, paints []int, shares []float64) []float64 {
	w := m.workspace()
	defer m.pool.Put(w)
	w.begin(target, nil)
	w.list, w.amount = append(w.list[:0], paints...), w.amount[:0]
	for i, p := range paints {
		w.amount = append(w.amount, shares[i]*m.scale[p])
	}
	normalise(w.amount)
	w.evaluate()
	w.slopes.Fill(w.here, &m.optics, w.aim)
	pulls := make([]float64, len(m.bands))
	for p := range m.bands {
		var j [3]float64
		w.slopes.By(&j, &m.bands[p])
		g := kernel.Dot(j, w.aim.R)
		pulls[p] = g * g / kernel.Dot(j, j)
		if g > 0 {
			pulls[p] = -pulls[p]
		}
	}
	return pulls
}
