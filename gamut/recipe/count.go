package recipe

import (
	"context"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
)

// counter mixes sets in all their divisions.
type counter struct {
	k      *Kitchen
	meter  *gamut.Meter
	items  []int
	volume []float64
	now    counted
}

// visitor is told what is counted out: a set, which it may refuse, and then each of
// its divisions, until it has seen enough.
type visitor interface {
	begin(s *ingredients) bool
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

func (c *counter) all(s *ingredients, serial uint64, v visitor) {
	c.items = s.items(c.items)
	list := c.k.divisions[s.n]
	for i := range list {
		d := &list[i]
		if d.touches&s.firm != 0 {
			continue
		}
		c.now = counted{s, d, serial + uint64(i), c.lab(d)}
		if !v.see(c, &c.now) {
			return
		}
	}
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
