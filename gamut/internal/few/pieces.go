package few

import (
	"cmp"
	"math"
	"slices"

	"fewtubes/gamut/colour"
)

// pieces are what of the mesh of a set of paints is looked at, for one target.
type pieces struct {
	shape   *meshShape
	colours [meshVertices]lab32
	r       [meshVertices][3]float64 // where the vertices seen lie from the target
	seen    [meshVertices]bool
	bends   [meshVertices]float32
	bent    [meshVertices]bool
	at      []uint8 // places in shape.pieces
	list    []wholePiece
	middle  [meshEdges]corner // of the edges halved
	halved  [meshEdges]bool
}

// wholePiece is a piece of a whole mesh.
type wholePiece struct {
	part
	edges []uint8
}

// How far a piece of a mesh may come nearer than it seems when it is taken for
// flat: near a single paint a part of its longest edge, elsewhere at most another
// part and mostly less, by how much the mesh bends at its corners. Measured on
// built-in tubes at 24 colours, these hold with half of them to spare, byCorner
// with a fifth.
const (
	byCorner   = 0.5
	elsewhere  = 0.3
	byBend     = 1.9
	besideBend = 0.03 // of the longest edge, and as much again in CIEDE2000
)

// comeWithin reports whether some paints have a mix that is near enough.
func (l *looking) comeWithin(paints []int) bool {
	frames := l.meshes.frames(paints)
	l.at = l.at[:0]
	gathered := false
	for b := range frames {
		if f := &frames[b]; f.box.meets(&l.near) {
			if !gathered {
				gathered = true
				l.begin(paints, l.enough)
				l.gather(paints)
			}
			near := l.near
			near.widen(f.bulge)
			l.between(&near, &l.shape.blocks[b])
		}
	}
	if len(l.at) == 0 {
		return false
	}
	for _, at := range l.at {
		for _, v := range l.shape.pieces[at].vertices {
			if !l.seen[v] && length(l.see32(v)) < l.enough {
				if l.take(l.shape.weights[v]); l.done() {
					return true
				}
			}
		}
	}
	l.divideAll()
	return l.Found()
}

// closeIn finds the nearest mix of some paints.
func (l *looking) closeIn(paints []int) {
	l.begin(paints, math.Inf(1))
	if len(paints) == 1 {
		l.take([3]float64{1})
		return
	}
	l.gather(paints)
	l.at = l.at[:0]
	for at := range l.shape.pieces {
		l.at = append(l.at, uint8(at))
	}
	nearest, least := 0, math.Inf(1)
	for v := range l.shape.weights {
		if d := length(l.see32(uint8(v))); d < least {
			nearest, least = v, d
		}
	}
	l.descendFrom(l.shape.weights[nearest])
	l.divideAll()
}

// gather takes up the mesh of two or three paints.
func (l *looking) gather(paints []int) {
	l.seen, l.bent = [meshVertices]bool{}, [meshVertices]bool{}
	if len(paints) == 2 {
		l.shape = &curve
		l.meshes.ofPair(l.colours[:], l.meshes.pair(paints[0], paints[1]), paints[0], paints[1])
	} else {
		l.shape = &surface
		l.meshes.ofTriple(l.colours[:], l.meshes.triple(paints[0], paints[1], paints[2]), paints[0], paints[1], paints[2])
	}
}

// between lists the pieces of a block that do not lie to one side of a box.
func (l *looking) between(box *labBox, block *meshBlock) {
	var sides [meshVertices]uint8
	for _, v := range block.vertices {
		sides[v] = box.beyond(&l.colours[v])
	}
	for _, at := range block.pieces {
		all := uint8(math.MaxUint8)
		for _, v := range l.shape.pieces[at].vertices {
			all &= sides[v]
		}
		if all == 0 {
			l.at = append(l.at, at)
		}
	}
}

// see32 is where a vertex lies from the target.
func (l *looking) see32(v uint8) [3]float64 {
	if !l.seen[v] {
		p := &l.colours[v]
		l.r[v], l.seen[v] = l.see(colour.Lab{L: float64(p[0]), A: float64(p[1]), B: float64(p[2])}), true
	}
	return l.r[v]
}

// divideAll looks closer at the pieces that may come below the bound, the nearest
// first.
func (l *looking) divideAll() {
	l.list, l.halved = l.list[:0], [meshEdges]bool{}
	for _, at := range l.at {
		whole := &l.shape.pieces[at]
		l.list = append(l.list, wholePiece{edges: whole.edges})
		p := &l.list[len(l.list)-1].part
		p.n = len(whole.vertices)
		for c, v := range whole.vertices {
			p.corners[c] = corner{l.shape.weights[v], l.see32(v)}
		}
		if p.measure(); p.distance >= l.bound && p.distance-l.bulge(p, whole) >= l.bound {
			l.list = l.list[:len(l.list)-1]
		}
	}
	slices.SortStableFunc(l.list, func(a, b wholePiece) int { return cmp.Compare(a.distance, b.distance) })
	if len(l.list) > 0 && l.list[0].distance < l.enough {
		if c := l.corner(l.list[0].weight); length(c.r) < l.enough {
			if l.take(c.weight); l.done() {
				return
			}
		}
	}
	for i := range l.list {
		p := &l.list[i]
		var middle [3]corner
		for e, ends := range edgesOf(p.n) {
			at := p.edges[e]
			if !l.halved[at] {
				l.halved[at] = true
				l.middle[at] = l.corner(halfway(p.corners[ends[0]].weight, p.corners[ends[1]].weight))
			}
			middle[e] = l.middle[at]
		}
		if l.divideAt(&p.part, &middle, 0); l.done() {
			return
		}
	}
}

// bulge is how much nearer a piece may come than it seems.
func (l *looking) bulge(p *part, whole *meshPiece) float64 {
	var edges [3]float64
	long := 0.0
	for at, e := range edgesOf(p.n) {
		edges[at] = length(minus3(p.corners[e[0]].r, p.corners[e[1]].r))
		long = max(long, edges[at])
	}
	switch {
	case whole.bulges:
		return byCorner * long
	case p.distance-float64(elsewhere*long) >= l.bound:
		return elsewhere * long
	}
	bend, scale := float32(0), 0.0
	for _, v := range whole.vertices {
		bend = max(bend, l.bend(v))
	}
	for at, e := range edgesOf(p.n) {
		a, b := &l.colours[whole.vertices[e[0]]], &l.colours[whole.vertices[e[1]]]
		if d := distance32(a, b); d > 0 {
			scale = max(scale, edges[at]/float64(d))
		}
	}
	return min(elsewhere*long, float64(byBend/8*scale*float64(bend))+float64(besideBend*(long+1)))
}

// bend is how much the mesh bends at a vertex, in CIELAB: the second difference.
func (l *looking) bend(v uint8) float32 {
	if !l.bent[v] {
		l.bends[v], l.bent[v] = 0, true
		q := &l.colours[v]
		for _, ends := range l.shape.through[v] {
			p, r := &l.colours[ends[0]], &l.colours[ends[1]]
			l.bends[v] = max(l.bends[v], distance32(&lab32{p[0] + r[0], p[1] + r[1], p[2] + r[2]}, &lab32{2 * q[0], 2 * q[1], 2 * q[2]}))
		}
	}
	return l.bends[v]
}

func distance32(p, q *lab32) float32 {
	a, b, c := p[0]-q[0], p[1]-q[1], p[2]-q[2]
	return float32(math.Sqrt(float64(a*a) + float64(b*b) + float64(c*c)))
}
