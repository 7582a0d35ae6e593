package recipe

import (
	"context"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/parallel"
)

// counter mixes sets in all their divisions.
type counter struct {
	k      *Kitchen
	labs   []kernel.Sketches // of divisions of the set on hand
	meter  *gamut.Meter
	items  []int
	volume []float64
	now    counted
}

// visitor is told what is counted out: a set, which it may refuse, and then those of its
// divisions that it wants by a sketch of their colour, until it has seen enough.
type visitor interface {
	begin(s *ingredients) bool
	wants(d *division, sketch [3]float32) bool
	see(c *counter, r *counted) (more bool)
}

// counted is a recipe as it is counted out.
type counted struct {
	set      *ingredients
	division *division
	serial   uint64 // in the order of counting
	lab      colour.Lab
}

// count mixes all sets in all divisions, one visitor to each processor. What the
// visitors keep must not depend on which of them saw what.
func (k *Kitchen) count(ctx context.Context, sets []ingredients, start func() visitor) error {
	parallel.EachOf(len(sets), func() func(int) {
		v, c := start(), counter{k: k, meter: k.mixer.Meter()}
		return func(at int) {
			if ctx.Err() == nil && v.begin(&sets[at]) {
				c.all(&sets[at], uint64(at)<<32, v)
			}
		}
	})
	return ctx.Err()
}

// sketchedAtOnce is how many eights of divisions are sketched before a look at them: a
// visitor may soon have seen enough.
const sketchedAtOnce = 8

func (c *counter) all(s *ingredients, serial uint64, v visitor) {
	c.items = s.items(c.items)
	list, volumes := c.k.divisions[s.n], c.k.volumes[s.n]
	for len(list) > 0 {
		now := volumes[:min(sketchedAtOnce, len(volumes))]
		volumes = volumes[len(now):]
		c.sketch(now)
		n := min(len(now)*kernel.Abreast, len(list))
		for i := range list[:n] {
			d := &list[i]
			if d.touches&s.firm == 0 && v.wants(d, kernel.Of(c.labs, i)) {
				c.now = counted{s, d, serial + uint64(i), c.lab(d)}
				if !v.see(c, &c.now) {
					return
				}
			}
		}
		list, serial = list[n:], serial+uint64(n)
	}
}

// sketch sketches the items in volumes.
func (c *counter) sketch(volumes []kernel.Volumes) {
	c.labs = slices.Grow(c.labs[:0], len(volumes))[:len(volumes)]
	c.k.sketch.Labs(c.labs, c.items, volumes)
}

func (c *counter) lab(d *division) colour.Lab {
	c.volume = c.volume[:0]
	for _, q := range d.quarters[:len(c.items)] {
		c.volume = append(c.volume, float64(q))
	}
	return c.meter.Lab(c.items, c.volume)
}

// steady reports whether the division on hand stays near the goal when each touch is
// half of what it should be or twice as much.
func (c *counter) steady(d *division, g *goal) bool {
	for choice := range 1 << mostTouches {
		c.volume = c.volume[:0]
		at := 0
		for i, q := range d.quarters[:len(c.items)] {
			v := float64(q)
			if d.touches>>i&1 == 1 {
				if v *= 2; choice>>at&1 == 1 {
					v /= 4
				}
				at++
			}
			c.volume = append(c.volume, v)
		}
		if choice>>at > 0 { // fewer touches than choices
			break
		}
		if colour.DE2000(c.meter.Lab(c.items, c.volume), g.lab) > g.stray {
			return false
		}
	}
	return true
}

// serves reports whether the recipe comes within the goal.
func (c *counter) serves(r *counted, g *goal) bool {
	_, ok := g.difference(r.lab)
	return ok && (r.division.touches == 0 || c.steady(r.division, g))
}
