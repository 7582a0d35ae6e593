package grid

import (
	"math"
	"slices"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// tetrahedron is four nodes and how much each has to say; the weights sum to 1.
type tetrahedron struct {
	node   [4]int32
	weight [4]float64
}

// Colour is the colour of the mix nearest to c, interpolated; false where the
// region of the grid does not hold c.
func (g *Grid) Colour(c colour.Lab) (colour.Lab, bool) {
	t, ok := g.find(c)
	if !ok {
		return colour.Lab{}, false
	}
	return g.colour(&t), true
}

// Mix is the same with its shares: of the paints of up to four mixes, in proportion.
// Lab is the interpolated colour; false as of Colour.
func (g *Grid) Mix(c colour.Lab) (m gamut.Mix, ok bool) {
	t, ok := g.find(c)
	if !ok {
		return m, false
	}
	m.Paints, m.Shares = g.shares(&t)
	m.Lab = g.colour(&t)
	m.DE = colour.DE2000(m.Lab, c)
	return m, true
}

// find goes down to the smallest cell that holds a colour.
func (g *Grid) find(c colour.Lab) (t tetrahedron, ok bool) {
	p, past := locate(c)
	i := g.base[basePlace(p)]
	if i == none {
		return t, false
	}
	at := &g.cells[i]
	for at.children != none {
		half, k := at.side/2, int32(0)
		for j := range p {
			k <<= 1
			if p[j] >= at.at[j]+half {
				k |= 1
			}
		}
		at = &g.cells[at.children+k]
	}
	if at.node == [8]int32{} {
		return t, false // a part in which no colour lies
	}
	for j := range past {
		past[j] = (float64(p[j]-at.at[j]) + past[j]) / float64(at.side)
	}
	t = at.corners(past)
	if at.side == 1 {
		g.mend(&t, c)
	}
	return t, true
}

// torn is how far apart, in CIELAB, the mixes at the corners of the smallest cells
// lie where the nearest mix jumps.
const torn = 4.0

// mend keeps to one side of a jump: what lies between both is no mix.
func (g *Grid) mend(t *tetrahedron, c colour.Lab) {
	best, least := 0, math.Inf(1)
	var apart float64
	for k, n := range t.node {
		if t.weight[k] == 0 {
			continue
		}
		if de := colour.DE2000(g.lab[n], c); portable.Compare(de, least, portable.Fine) < 0 {
			best, least = k, de
		}
		apart = max(apart, distance(g.lab[n], g.lab[t.node[0]]))
	}
	if apart < torn/2 {
		return
	}
	var sum float64
	for k, n := range t.node {
		if distance(g.lab[n], g.lab[t.node[best]]) > torn {
			t.weight[k] = 0
		}
		sum += t.weight[k]
	}
	for k := range t.weight {
		t.weight[k] /= sum
	}
}

func distance(p, q colour.Lab) float64 {
	l, a, b := p.L-q.L, p.A-q.A, p.B-q.B
	return math.Sqrt(float64(l*l) + float64(a*a) + float64(b*b))
}

// corners goes from the first corner of a cell towards the last by the axis that is
// farthest on first, which picks the tetrahedron that holds the colour.
func (c *cell) corners(past [3]float64) (t tetrahedron) {
	x, y, z := 0, 1, 2
	if past[x] < past[y] {
		x, y = y, x
	}
	if past[y] < past[z] {
		y, z = z, y
	}
	if past[x] < past[y] {
		x, y = y, x
	}
	step := [3]int{4, 2, 1}
	t.node = [4]int32{c.node[0], c.node[step[x]], c.node[step[x]+step[y]], c.node[7]}
	t.weight = [4]float64{1 - past[x], past[x] - past[y], past[y] - past[z], past[z]}
	return t
}

func (g *Grid) colour(t *tetrahedron) (c colour.Lab) {
	for k, w := range t.weight {
		n := &g.lab[t.node[k]]
		c.L += float64(w * n.L)
		c.A += float64(w * n.A)
		c.B += float64(w * n.B)
	}
	return c
}

// shares are those of four mixes in proportion, paints ascending.
func (g *Grid) shares(t *tetrahedron) (paints []int, shares []float64) {
	for k, w := range t.weight {
		if w == 0 {
			continue
		}
		m := &g.mixes[t.node[k]]
		for i, paint := range m.Paints {
			at, found := slices.BinarySearch(paints, paint)
			if !found {
				paints, shares = slices.Insert(paints, at, paint), slices.Insert(shares, at, 0)
			}
			shares[at] += float64(w * m.Shares[i])
		}
	}
	return paints, shares
}
