package search

import "fewtubes/gamut/colour"

// Nearer is a mix, or a nearer one found from other amounts by volume, > 0, of paints
// in ascending order: the mix shown beside a recipe is never farther from the target
// than the recipe is, whatever search each of them comes from.
func (m *Paints) Nearer(target colour.Lab, mix Mix, paints []int, amounts []float64) Mix {
	if len(paints) == 0 || colour.DE2000(m.Evaluate(paints, amounts), target) >= mix.DE {
		return mix
	}
	from := Mix{Paints: append([]int(nil), paints...), Shares: append([]float64(nil), amounts...)}
	normalise(from.Shares)
	from.Lab = m.Evaluate(from.Paints, from.Shares)
	from.DE = colour.DE2000(from.Lab, target)
	if settled := m.settle(target, from.Paints, from.Shares, from.DE*from.DE > farOff); settled.DE < from.DE {
		return settled
	}
	return from
}
