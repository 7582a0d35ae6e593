package search

import (
	"math"

	"fewtubes/gamut/colour"
)

// Descent follows mixes of a few chosen paints downhill to one target and keeps the
// nearest. It serves one goroutine at a time; Close ends it.
type Descent struct {
	w    *workspace
	best state // no paints: none
}

// Descent is a new descent to a target.
func (m *Paints) Descent(target colour.Lab) Descent {
	w := m.workspace()
	w.begin(target, nil)
	return Descent{w: w}
}

// Close gives back what a descent works with.
func (d *Descent) Close() { d.w.m.pool.Put(d.w) }

// Begin takes up some paints; nothing is kept of those before.
func (d *Descent) Begin(paints []int) {
	d.w.list = append(d.w.list[:0], paints...)
	d.best.list = d.best.list[:0]
}

// Found reports whether a mix is kept.
func (d *Descent) Found() bool { return len(d.best.list) > 0 }

// Lab is the colour of scaled amounts of the paints; the present mix stays.
func (d *Descent) Lab(amounts []float64) colour.Lab {
	w := d.w
	w.next.Mix(w.m.bands, w.list, amounts)
	w.next.Colour(&w.m.optics)
	return w.next.Lab
}

// Take makes scaled amounts the present mix; its distance, in CIEDE2000.
func (d *Descent) Take(amounts []float64) float64 {
	w := d.w
	w.amount = append(w.amount[:0], amounts...)
	normalise(w.amount)
	w.evaluate()
	return d.distance()
}

func (d *Descent) distance() float64 { return math.Sqrt(d.w.aim.Squared) }

// Settle descends from the present mix as long as there is hope to come within a
// distance; the distance it ends at.
func (d *Descent) Settle(within float64) float64 {
	d.w.hope = within * within
	d.w.descendUntil(leastGain/10, fullLook)
	d.w.hope = math.Inf(1)
	return d.distance()
}

// Keep keeps the present mix.
func (d *Descent) Keep() { d.w.save(&d.best) }

// Back makes the mix that is kept the present one.
func (d *Descent) Back() { d.w.restore(&d.best) }

// Mix is the mix that is kept, its colour worked out the plain way.
func (d *Descent) Mix(target colour.Lab) Mix {
	d.Back()
	w, mix := d.w, Mix{}
	for i, p := range w.list {
		if w.amount[i] > 0 {
			mix.Paints, mix.Shares = append(mix.Paints, p), append(mix.Shares, w.amount[i]/w.m.scale[p])
		}
	}
	normalise(mix.Shares)
	mix.Lab = w.m.Evaluate(mix.Paints, mix.Shares)
	mix.DE = colour.DE2000(mix.Lab, target)
	return mix
}
