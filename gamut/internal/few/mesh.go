package few

import (
	"slices"
	"sync"
	"sync/atomic"

	"fewtubes/gamut/internal/search"
	"fewtubes/gamut/parallel"
)

// Mixes of two or three paints lie on a curve or a surface in CIELAB that does
// not depend on the colour sought. Each is laid out once as a mesh of mixes, for
// all colours. The amounts at a place of the mesh are the squares of its weights,
// which makes steps in colour about even, since a trace of a strong tinter already
// turns a white. Taken for flat between its vertices, a mesh of the built-in tubes
// is off by 0.4 CIELAB units in the middle and by 5 at most.

const (
	meshSteps    = 8
	meshVertices = (meshSteps + 1) * (meshSteps + 2) / 2
	meshInner    = (meshSteps - 1) * (meshSteps - 2) / 2 // vertices of a triple that no pair has
	meshEdges    = 3 * meshSteps * (meshSteps + 1) / 2
	meshLines    = 3 * meshSteps * (meshSteps - 1) / 2
)

// meshes are the curves and surfaces of a mixer's paints, each laid out when it is
// first asked for; whoever comes second at the same time lays out the same.
type meshes struct {
	m       *search.Paints
	single  []lab32
	pairs   []atomic.Pointer[pairMesh]   // by pairAt
	triples []atomic.Pointer[tripleMesh] // by tripleAt; none where a mix holds two paints at most
	all     sync.Once
}

type pairMesh struct {
	inner  [meshSteps - 1]lab32 // from the lower paint to the higher
	frames [1]frame
}

type tripleMesh struct {
	inner  [meshInner]lab32 // as meshPlace counts them
	frames [4]frame
}

// frame is a box around a block of a mesh, and how far the mesh may bulge out of
// the boxes of the pieces there.
type frame struct {
	box   labBox
	bulge lab32
}

// pairAt is the place of paints i < j among all pairs.
func pairAt(i, j int) int { return j*(j-1)/2 + i }

// tripleAt is the place of paints i < j < k among all triples.
func tripleAt(i, j, k int) int { return k*(k-1)*(k-2)/6 + pairAt(i, j) }

// meshShape is how the vertices of a mesh hang together.
type meshShape struct {
	weights [][3]float64 // per vertex: of the two or three paints, sum 1
	lines   [][3]uint8   // three vertices in a row
	through [][][2]uint8 // per vertex: the other two of the lines in whose middle it is
	pieces  []meshPiece
	blocks  []meshBlock
}

// meshBlock is a part of a mesh that is looked at or passed over as one: a curve, or
// a quarter of a surface.
type meshBlock struct {
	vertices, pieces []uint8
	lines            []uint8
}

// meshPiece is a segment of a curve or a triangle of a surface.
type meshPiece struct {
	vertices []uint8
	edges    []uint8 // numbers of its edges, shared with its neighbours
	bulges   bool    // more than others, and more than its bends say
}

// meshPlace is a vertex of a surface: the weights of the three paints in steps, and
// its number among those that lie on no edge, or -1.
type meshPlace struct {
	steps [3]int
	inner int
}

var (
	meshPlaces = placesOfSurface()
	curve      = shapeOfCurve().linked()
	surface    = shapeOfSurface().linked()
)

// linked fills what follows from the lines.
func (s meshShape) linked() meshShape {
	s.through = make([][][2]uint8, len(s.weights))
	for _, l := range s.lines {
		s.through[l[1]] = append(s.through[l[1]], [2]uint8{l[0], l[2]})
	}
	return s
}

// block is what lies within some vertices.
func (s *meshShape) block(has func(v uint8) bool) (b meshBlock) {
	for v := range s.weights {
		if has(uint8(v)) {
			b.vertices = append(b.vertices, uint8(v))
		}
	}
	for at, p := range s.pieces {
		if !slices.ContainsFunc(p.vertices, func(v uint8) bool { return !has(v) }) {
			b.pieces = append(b.pieces, uint8(at))
		}
	}
	for at, l := range s.lines {
		if has(l[1]) { // bends on its edge count on either side
			b.lines = append(b.lines, uint8(at))
		}
	}
	return b
}

func placesOfSurface() (out []meshPlace) {
	inner := 0
	for x := range meshSteps + 1 {
		for y := range meshSteps + 1 - x {
			p := meshPlace{[3]int{x, y, meshSteps - x - y}, -1}
			if x > 0 && y > 0 && p.steps[2] > 0 {
				p.inner = inner
				inner++
			}
			out = append(out, p)
		}
	}
	return out
}

func shapeOfCurve() (s meshShape) {
	for k := range uint8(meshSteps + 1) {
		x := float64(float64(k) / meshSteps)
		s.weights = append(s.weights, [3]float64{1 - x, x})
		if k > 0 {
			s.pieces = append(s.pieces, meshPiece{[]uint8{k - 1, k}, []uint8{k - 1}, true})
		}
		if k > 1 {
			s.lines = append(s.lines, [3]uint8{k - 2, k - 1, k})
		}
	}
	s.blocks = []meshBlock{s.block(func(uint8) bool { return true })}
	return s
}

func shapeOfSurface() (s meshShape) {
	at := map[[2]int]uint8{}
	for v, p := range meshPlaces {
		at[[2]int{p.steps[0], p.steps[1]}] = uint8(v)
		s.weights = append(s.weights, [3]float64{float64(p.steps[0]) / meshSteps, float64(p.steps[1]) / meshSteps, float64(p.steps[2]) / meshSteps})
	}
	edges := map[[2]uint8]uint8{}
	most := func(v uint8) int { return slices.Max(meshPlaces[v].steps[:]) }
	triangle := func(vertices ...uint8) {
		p := meshPiece{vertices: vertices}
		for _, ends := range triangleEdges {
			a, b := vertices[ends[0]], vertices[ends[1]]
			edge := [2]uint8{min(a, b), max(a, b)}
			if _, ok := edges[edge]; !ok {
				edges[edge] = uint8(len(edges))
			}
			p.edges = append(p.edges, edges[edge])
		}
		// It lies next to a single paint and its edge crosses the way there.
		least := slices.MinFunc(vertices, func(a, b uint8) int { return most(a) - most(b) })
		p.bulges = slices.Index(meshPlaces[least].steps[:], meshSteps-2) >= 0 && !slices.ContainsFunc(vertices, func(v uint8) bool { return v != least && most(v) != meshSteps-1 })
		s.pieces = append(s.pieces, p)
	}
	for x := range meshSteps {
		for y := range meshSteps - x {
			triangle(at[[2]int{x, y}], at[[2]int{x + 1, y}], at[[2]int{x, y + 1}])
			if x+y+2 > meshSteps {
				continue
			}
			triangle(at[[2]int{x + 1, y + 1}], at[[2]int{x + 1, y}], at[[2]int{x, y + 1}])
			s.lines = append(s.lines,
				[3]uint8{at[[2]int{x, y}], at[[2]int{x + 1, y}], at[[2]int{x + 2, y}]},
				[3]uint8{at[[2]int{x, y}], at[[2]int{x, y + 1}], at[[2]int{x, y + 2}]},
				[3]uint8{at[[2]int{x + 2, y}], at[[2]int{x + 1, y + 1}], at[[2]int{x, y + 2}]})
		}
	}
	for paint := range 3 {
		s.blocks = append(s.blocks, s.block(func(v uint8) bool { return meshPlaces[v].steps[paint] >= meshSteps/2 }))
	}
	s.blocks = append(s.blocks, s.block(func(v uint8) bool { return most(v) <= meshSteps/2 }))
	return s
}

func newMeshes(m *search.Paints) *meshes {
	n := m.Len()
	out := &meshes{m: m, single: make([]lab32, n)}
	p := m.Meter()
	for i := range out.single {
		out.single[i] = mixed(p, []int{i}, []float64{1})
	}
	if m.Limit() >= 2 {
		out.pairs = make([]atomic.Pointer[pairMesh], n*(n-1)/2)
	}
	if m.Limit() >= 3 {
		out.triples = make([]atomic.Pointer[tripleMesh], n*(n-1)*(n-2)/6)
	}
	return out
}

// pair is the mesh of paints i < j.
func (s *meshes) pair(i, j int) *pairMesh {
	at := &s.pairs[pairAt(i, j)]
	mesh := at.Load()
	if mesh == nil {
		mesh = new(pairMesh)
		p := s.m.Meter()
		list, amounts := []int{i, j}, []float64{0, 0}
		for k := range mesh.inner {
			squares(amounts, meshSteps-1-k, k+1)
			mesh.inner[k] = mixed(p, list, amounts)
		}
		var v [meshSteps + 1]lab32
		s.ofPair(v[:], mesh, i, j)
		curve.frame(mesh.frames[:], v[:])
		at.Store(mesh)
	}
	return mesh
}

// triple is the mesh of paints i < j < k.
func (s *meshes) triple(i, j, k int) *tripleMesh {
	at := &s.triples[tripleAt(i, j, k)]
	mesh := at.Load()
	if mesh == nil {
		mesh = new(tripleMesh)
		p := s.m.Meter()
		list, amounts := []int{i, j, k}, []float64{0, 0, 0}
		for at := range meshPlaces {
			if place := &meshPlaces[at]; place.inner >= 0 {
				squares(amounts, place.steps[:]...)
				mesh.inner[place.inner] = mixed(p, list, amounts)
			}
		}
		var v [meshVertices]lab32
		s.ofTriple(v[:], mesh, i, j, k)
		surface.frame(mesh.frames[:], v[:])
		at.Store(mesh)
	}
	return mesh
}

// layAll lays out every mesh, on all processors.
func (s *meshes) layAll() {
	s.all.Do(func() {
		s.forEach(func(j, k int) {
			if len(s.pairs) > 0 {
				s.pair(j, k)
			}
		})
		s.forEach(func(j, k int) {
			for i := range j {
				if len(s.triples) > 0 {
					s.triple(i, j, k)
				}
			}
		})
	})
}

// forEach calls f for all paints j < k, on all processors.
func (s *meshes) forEach(f func(j, k int)) {
	parallel.Each(len(s.single), func(k int) {
		for j := range k {
			f(j, k)
		}
	})
}

// frames are those of the mesh of two or three paints.
func (s *meshes) frames(paints []int) []frame {
	if len(paints) == 2 {
		return s.pair(paints[0], paints[1]).frames[:]
	}
	return s.triple(paints[0], paints[1], paints[2]).frames[:]
}

// mixed is the colour of a mixture of scaled amounts.
func mixed(m *search.Meter, list []int, amounts []float64) lab32 {
	lab := m.Scaled(list, amounts)
	return lab32{float32(lab.L), float32(lab.A), float32(lab.B)}
}

// squares are the amounts at a place, on any scale.
func squares(amounts []float64, steps ...int) {
	for i, n := range steps {
		amounts[i] = float64(n * n)
	}
}

// ofPair gathers the vertices of a pair, from the lower paint to the higher.
func (s *meshes) ofPair(v []lab32, mesh *pairMesh, i, j int) {
	v[0], v[meshSteps] = s.single[i], s.single[j]
	copy(v[1:], mesh.inner[:])
}

// ofTriple gathers the vertices of a triple.
func (s *meshes) ofTriple(v []lab32, mesh *tripleMesh, i, j, k int) {
	single := [3]*lab32{&s.single[i], &s.single[j], &s.single[k]}
	pair := [3]*pairMesh{s.pair(i, j), s.pair(i, k), s.pair(j, k)}
	for _, f := range surfaceFrom.single {
		v[f.vertex] = *single[f.of]
	}
	for _, f := range surfaceFrom.pair {
		v[f.vertex] = pair[f.of].inner[f.at]
	}
	for _, f := range surfaceFrom.inner {
		v[f.vertex] = mesh.inner[f.at]
	}
}

// vertexFrom tells where the colour of a vertex of a surface is to be had.
type vertexFrom struct{ vertex, of, at uint8 }

// surfaceFrom are the vertices of a surface that are single paints, that lie on pairs
// (first and second, first and third, second and third), and the others.
var surfaceFrom = verticesFrom()

func verticesFrom() (out struct{ single, pair, inner []vertexFrom }) {
	for at, p := range meshPlaces {
		x, y, z := p.steps[0], p.steps[1], p.steps[2]
		f := vertexFrom{vertex: uint8(at)}
		switch most := slices.Index(p.steps[:], meshSteps); {
		case p.inner >= 0:
			f.at = uint8(p.inner)
			out.inner = append(out.inner, f)
		case most >= 0:
			f.of = uint8(most)
			out.single = append(out.single, f)
		case z == 0:
			f.at = uint8(y - 1)
			out.pair = append(out.pair, f)
		case y == 0:
			f.of, f.at = 1, uint8(z-1)
			out.pair = append(out.pair, f)
		case x == 0:
			f.of, f.at = 2, uint8(z-1)
			out.pair = append(out.pair, f)
		}
	}
	return out
}

// frame fills the frames of some vertices. How far the mesh bulges between them is
// judged, twice over and a quarter of a unit more, by how much it bends from one
// to the next.
func (s *meshShape) frame(frames []frame, v []lab32) {
	var bends [meshLines]lab32
	for at, l := range s.lines {
		p, q, r := &v[l[0]], &v[l[1]], &v[l[2]]
		for k := range q {
			bend := p[k] - q[k] - q[k] + r[k]
			if bend < 0 {
				bend = q[k] + q[k] - p[k] - r[k]
			}
			bends[at][k] = bend
		}
	}
	for at := range s.blocks {
		block := &s.blocks[at]
		f := frame{emptyBox(), lab32{1, 1, 1}}
		for _, p := range block.vertices {
			f.box.put(v[p])
		}
		for _, l := range block.lines {
			for k, bend := range bends[l] {
				if bend > f.bulge[k] {
					f.bulge[k] = bend
				}
			}
		}
		for k := range f.bulge {
			f.bulge[k] /= 4
		}
		f.box.widen(f.bulge)
		frames[at] = f
	}
}
