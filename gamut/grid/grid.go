package grid

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/portable"
	"fewtubes/gamut/set"
)

// Grid holds a palette's nearest mixes over a region. It is not changed once made
// and serves any number of goroutines.
type Grid struct {
	mixer *gamut.Mixer
	base  []int32 // a cell or none, by its place in cells of the full side
	cells []cell
	lab   []colour.Lab // of the nodes
	mixes []gamut.Mix
}

// cell is a cube with its corners; divided cells have eight children in a row.
type cell struct {
	at       place
	side     int32
	node     [8]int32
	children int32
	parent   int32 // or none
}

const none = -1

// off is by how much, in CIEDE2000, the middle of a cell may be off.
const off = 0.5

// New seeks the nearest mixes of a palette over a region, or gives up with the
// context's error. The palette must hold a paint.
func New(ctx context.Context, m *gamut.Mixer, palette set.Set, region *Region) (*Grid, error) {
	g := &Grid{mixer: m, base: make([]int32, unitsL/side*unitsAB/side*unitsAB/side)}
	n := nodes{grid: g, palette: palette, known: map[place]int32{}}
	var fresh []int32
	for i := range g.base {
		g.base[i] = none
		if at := baseAt(i); region.within(at, side) {
			g.base[i] = int32(len(g.cells))
			fresh = append(fresh, g.base[i])
			g.cells = append(g.cells, cell{at: at, side: side, children: none, parent: none})
		}
	}
	for len(fresh) > 0 {
		if err := n.seek(ctx, g.corners(fresh)); err != nil {
			return nil, err
		}
		for _, i := range fresh {
			c := &g.cells[i]
			for k := range c.node {
				c.node[k] = n.known[c.at.plus(k, c.side)]
			}
		}
		fresh = slices.DeleteFunc(fresh, func(i int32) bool { return g.cells[i].side == 1 })
		if err := n.seek(ctx, g.middles(fresh)); err != nil {
			return nil, err
		}
		fresh = g.divide(n.wrong(fresh), region)
	}
	return g, ctx.Err()
}

// baseAt is the inverse of basePlace.
func baseAt(i int) place {
	const n = unitsAB / side
	return place{int32(i / (n * n) * side), int32(i / n % n * side), int32(i % n * side)}
}

func basePlace(p place) int {
	const n = unitsAB / side
	return (int(p[0]/side)*n+int(p[1]/side))*n + int(p[2]/side)
}

// wanted is a place whose mix is sought, and the cell whose corners lie around it.
type wanted struct {
	at     place
	around int32 // none: not known
}

func (g *Grid) corners(of []int32) (out []wanted) {
	for _, i := range of {
		for k := range 8 {
			out = append(out, wanted{g.cells[i].at.plus(k, g.cells[i].side), g.cells[i].parent})
		}
	}
	return out
}

func (c *cell) middle() place { return c.at.plus(7, c.side/2) }

func (g *Grid) middles(of []int32) (out []wanted) {
	for _, i := range of {
		out = append(out, wanted{g.cells[i].middle(), i})
	}
	return out
}

// divide parts cells into eight and lists the parts in which colours lie.
func (g *Grid) divide(cells []int32, region *Region) (fresh []int32) {
	for _, i := range cells {
		half := g.cells[i].side / 2
		g.cells[i].children = int32(len(g.cells))
		for k := range 8 {
			at := g.cells[i].at.plus(k, half)
			if region.within(at, half) {
				fresh = append(fresh, int32(len(g.cells)))
			}
			g.cells = append(g.cells, cell{at: at, side: half, children: none, parent: i})
		}
	}
	return fresh
}

// nodes are the mixes found while a grid is made.
type nodes struct {
	grid    *Grid
	palette set.Set
	known   map[place]int32
}

// seek finds the nearest mixes of the places that are not known yet.
func (n *nodes) seek(ctx context.Context, places []wanted) error {
	g := n.grid
	first := len(g.mixes)
	var fresh []wanted
	for _, p := range places {
		if _, ok := n.known[p.at]; !ok {
			n.known[p.at] = int32(first + len(fresh))
			fresh = append(fresh, p)
		}
	}
	g.mixes = append(g.mixes, make([]gamut.Mix, len(fresh))...)
	parallel.Each(len(fresh), func(i int) {
		if ctx.Err() == nil {
			g.mixes[first+i] = n.nearest(fresh[i])
		}
	})
	for _, mix := range g.mixes[first:] {
		g.lab = append(g.lab, mix.Lab)
	}
	return ctx.Err()
}

// sure is the distance from which a quick search may have been led astray, CIEDE2000.
const sure = 1.0

// nearest searches quickly. Where the colour is out of reach the mixes around it say
// what else may be nearest, and where there are none it searches again.
func (n *nodes) nearest(w wanted) gamut.Mix {
	g, c := n.grid, w.at.lab()
	mix := g.mixer.Closest(c, n.palette, gamut.Quick)
	if mix.DE <= sure {
		return mix
	}
	if w.around == none {
		return g.mixer.Closest(c, n.palette, gamut.Search)
	}
	node, least := int32(none), math.Inf(1)
	for _, k := range g.cells[w.around].node {
		if de := colour.DE2000(g.lab[k], c); portable.Compare(de, least, portable.Fine) < 0 {
			node, least = k, de
		}
	}
	from := &g.mixes[node]
	if other := g.mixer.Settle(c, from.Paints, from.Shares); portable.Compare(other.DE, mix.DE, portable.Fine) < 0 {
		return other
	}
	return mix
}

// apart is how many sides of a cell the mixes at its corners may lie from the first
// in CIELAB; where they lie farther the nearest mix jumps.
const apart = 2.5

// wrong lists the cells over which the nearest mix jumps, or in whose middle the
// interpolated colour is not the nearest mix's, or not that of the interpolated shares.
func (n *nodes) wrong(cells []int32) []int32 {
	g := n.grid
	bad := make([]bool, len(cells))
	parallel.EachOf(len(cells), func() func(int) {
		meter := g.mixer.Meter()
		return func(i int) {
			c := &g.cells[cells[i]]
			for _, k := range c.node {
				if distance(g.lab[k], g.lab[c.node[0]]) > apart*float64(c.side) {
					bad[i] = true
					return
				}
			}
			between := c.corners([3]float64{0.5, 0.5, 0.5})
			lab := g.colour(&between)
			if colour.DE2000(lab, g.lab[n.known[c.middle()]]) > off {
				bad[i] = true
				return
			}
			paints, shares := g.shares(&between)
			bad[i] = colour.DE2000(lab, meter.Lab(paints, shares)) > off
		}
	})
	var out []int32
	for i, b := range bad {
		if b {
			out = append(out, cells[i])
		}
	}
	return out
}

// Nodes is how many mixes were sought.
func (g *Grid) Nodes() int { return len(g.mixes) }
