package grid

import (
	"math"

	"fewtubes/gamut/colour"
)

// The grid spans all that a photograph codes; colours beyond are asked at its edge.
// Cells are cubes of CIELAB, side units wide and divided into halves down to one
// unit, which is where nodes may lie.
const (
	side                    = 4
	lightness, chromaticity = 100, 128                    // L* 0..100, a* and b* -128..128
	unitsL, unitsAB         = lightness, 2 * chromaticity // along each axis
)

// place is a corner of a unit of the grid, counted from its darkest, greenest and
// bluest.
type place [3]int32

// Region is where in CIELAB the colours of a picture lie, to a unit.
type Region struct {
	unit []uint64 // a bit each
}

// NewRegion holds no colour.
func NewRegion() *Region {
	return &Region{unit: make([]uint64, unitsL*unitsAB*unitsAB/64)}
}

// Add puts a colour in.
func (r *Region) Add(c colour.Lab) {
	p, _ := locate(c)
	i := p.index()
	r.unit[i/64] |= 1 << (i % 64)
}

// within reports whether any colour lies in the cube at a place.
func (r *Region) within(at place, side int32) bool {
	for l := at[0]; l < at[0]+side; l++ {
		for a := at[1]; a < at[1]+side; a++ {
			i := place{l, a, at[2]}.index()
			if r.unit[i/64]>>(i%64)&(1<<side-1) != 0 { // side divides 64
				return true
			}
		}
	}
	return false
}

// index is the place of a unit among all.
func (p place) index() int { return (int(p[0])*unitsAB+int(p[1]))*unitsAB + int(p[2]) }

// locate finds the unit a colour lies in, and where in it, 0..1 along each axis.
func locate(c colour.Lab) (p place, past [3]float64) {
	for k, v := range [3]float64{c.L, c.A + chromaticity, c.B + chromaticity} {
		most := float64(unitsAB)
		if k == 0 {
			most = unitsL
		}
		v = min(max(v, 0), most)
		whole := min(math.Floor(v), most-1)
		p[k], past[k] = int32(whole), v-whole
	}
	return p, past
}

// lab is the colour of a place.
func (p place) lab() colour.Lab {
	return colour.Lab{L: float64(p[0]), A: float64(p[1]) - chromaticity, B: float64(p[2]) - chromaticity}
}

func (p place) plus(corner int, side int32) place {
	return place{p[0] + side*int32(corner>>2), p[1] + side*int32(corner>>1&1), p[2] + side*int32(corner&1)}
}
