package gamut

import (
	"math"

	"fewtubes/gamut/colour"
)

// DefaultPartsTotal is the most parts in a recipe when no limit is given.
const DefaultPartsTotal = 20

// worthAPaint is the CIEDE2000 a recipe must gain for each paint more: less is
// hard to see side by side (common practice, no source).
const worthAPaint = 0.25

// Recipe is mix in small whole parts by volume, at most maxTotal together (0:
// 20), with the difference of those parts to the target. Every way to divide
// the parts among the paints of the mix, or some of them, is tried; the fewest
// paints come first, and one more must gain a quarter of a unit.
func (m *Mixer) Recipe(target colour.Lab, mix Mix, maxTotal int) Recipe {
	if maxTotal <= 0 {
		maxTotal = DefaultPartsTotal
	}
	d := newDivider(m, target, mix.Paints, maxTotal)
	best := Recipe{DE: math.Inf(1)}
	for size := 1; size <= min(len(mix.Paints), maxTotal); size++ {
		r := d.best(size)
		if r.DE < best.DE-worthAPaint {
			best = r
		}
	}
	return best
}

// divider tries whole parts of a few paints.
type divider struct {
	m      *Mixer
	target colour.Lab
	aim    residual
	paints []int
	most   int
	sums   []point // by depth: what the paints chosen so far sum to
	chosen []int   // indices into paints
	parts  []int

	squared   float64
	bestPaint []int
	bestParts []int
}

func newDivider(m *Mixer, target colour.Lab, paints []int, most int) *divider {
	n := len(paints)
	return &divider{
		m: m, target: target, aim: newResidual(target), paints: paints, most: most,
		sums: make([]point, n+1), chosen: make([]int, 0, n), parts: make([]int, 0, n),
	}
}

// best is the nearest recipe of exactly size paints.
func (d *divider) best(size int) Recipe {
	d.squared = math.Inf(1)
	d.choose(0, size, d.most)
	r := Recipe{Paints: append([]int(nil), d.bestPaint...), Parts: append([]int(nil), d.bestParts...)}
	amounts := make([]float64, len(r.Parts))
	for i, n := range r.Parts {
		amounts[i] = float64(n)
	}
	r.Lab = d.m.Evaluate(r.Paints, amounts)
	r.DE = colour.DE2000(r.Lab, d.target)
	return r
}

// choose takes one paint more, from the given one on, in every number of parts
// that leaves enough for the rest.
func (d *divider) choose(from, size, left int) {
	if size == 0 {
		d.weigh()
		return
	}
	depth := len(d.chosen)
	for i := from; i+size <= len(d.paints); i++ {
		p := d.paints[i]
		d.chosen = append(d.chosen, p)
		next := &d.sums[depth+1]
		next.sum = d.sums[depth].sum
		for n := 1; n <= left-size+1; n++ {
			next.add(&d.m.bands[p], d.m.scale[p])
			d.parts = append(d.parts, n)
			d.choose(i+1, size-1, left-n)
			d.parts = d.parts[:depth]
		}
		d.chosen = d.chosen[:depth]
	}
}

// weigh compares the parts chosen with the best so far. Those with a common
// factor have been, or will be, met in smaller parts.
func (d *divider) weigh() {
	if commonFactor(d.parts) > 1 {
		return
	}
	p := &d.sums[len(d.chosen)]
	p.colour(&d.m.optics)
	d.aim.lightness(p.lab.L)
	if d.aim.r[0]*d.aim.r[0] >= d.squared {
		return
	}
	if d.aim.at(p.lab); d.aim.squared < d.squared {
		d.squared = d.aim.squared
		d.bestPaint = append(d.bestPaint[:0], d.chosen...)
		d.bestParts = append(d.bestParts[:0], d.parts...)
	}
}

func commonFactor(parts []int) int {
	g := 0
	for _, n := range parts {
		for n != 0 {
			g, n = n, g%n
		}
		if g == 1 {
			return 1
		}
	}
	return g
}
