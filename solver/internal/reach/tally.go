package reach

import (
	"slices"

	"fewtubes/gamut/set"
)

// tally counts in how many known mixes each tube stands while a set shrinks to
// one that misses the target.
type tally struct {
	k         *Known
	set       set.Set // shrinks
	palette   set.Set // stays within the set
	tolerance float64
	within    []bool // per known mix: it is within the set and the tolerance
	left      int    // mixes within
	inside    []int  // per tube: mixes within that hold it
	all       []int  // per tube: mixes of the tolerance that hold it
	reached   bool   // a mix of the palette is among them
}

// noneNeeded says that no known mix is within the set.
const noneNeeded = -1

func (k *Known) tally(held, palette set.Set, tolerance float64) *tally {
	c := &tally{k: k, set: held, palette: palette, tolerance: tolerance, inside: make([]int, k.tubes), all: make([]int, k.tubes)}
	for at := range k.supports {
		c.add(at)
	}
	return c
}

// add counts a known mix.
func (c *tally) add(at int) {
	for len(c.within) <= at {
		c.within = append(c.within, false)
	}
	s := &c.k.supports[at]
	if s.mix.DE > c.tolerance {
		return
	}
	within := s.within(c.set)
	for _, p := range s.mix.Paints {
		c.all[p]++
		if within {
			c.inside[p]++
		}
	}
	if within {
		c.within[at] = true
		c.left++
		c.reached = c.reached || s.within(c.palette)
	}
}

// remove takes a tube out of the set.
func (c *tally) remove(tube int) {
	c.set.Remove(tube)
	if c.k.byTube == nil {
		return
	}
	for _, at := range c.k.byTube[tube] {
		if at < len(c.within) && c.within[at] {
			c.within[at] = false
			c.left--
			for _, p := range c.k.supports[at].mix.Paints {
				c.inside[p]--
			}
		}
	}
}

// mostNeeded is the tube outside the palette that stands in most of the mixes
// within the set; of equals the one in most of all, then the lowest.
func (c *tally) mostNeeded() int {
	most := noneNeeded
	if c.left == 0 {
		return most
	}
	for p, n := range c.inside {
		if n == 0 || c.palette.Has(p) {
			continue
		}
		if most < 0 || n > c.inside[most] || n == c.inside[most] && c.all[p] > c.all[most] {
			most = p
		}
	}
	return most
}

// latestWith is the latest mix within the set that holds a tube.
func (c *tally) latestWith(tube int) *support {
	for _, at := range slices.Backward(c.k.byTube[tube]) {
		if at < len(c.within) && c.within[at] {
			return &c.k.supports[at]
		}
	}
	panic("solver: no mix within the set holds the tube")
}
