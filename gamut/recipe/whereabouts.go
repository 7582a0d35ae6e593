package recipe

import (
	"math"

	"fewtubes/gamut/colour"
)

// whereabouts tells which goals a colour may lie within, by the cell of CIELAB that
// it lies in. A cell holds all goals that any colour in it lies within, and some more.
type whereabouts struct {
	words int // of marks
	cells []uint64
}

const (
	cellsL, cellsAB = 42, 52
	cellL, cellAB   = 2.5, 5.0
	lowestAB        = -cellAB * cellsAB / 2

	inCell = 4 // colours of a cell that are asked along each side
	// awayInCell bounds the CIEDE2000 from any colour of a cell, and a sketch that
	// lies there, to the nearest of those asked: the half diagonal between them, 1.0,
	// and the error of a sketch, where a unit of CIELAB is two of CIEDE2000 at most.
	awayInCell = 2.2
)

func newWhereabouts(goals []goal) *whereabouts {
	w := &whereabouts{words: (len(goals) + 63) / 64}
	w.cells = make([]uint64, cellsL*cellsAB*cellsAB*w.words)
	for i := range goals {
		w.mark(i, &goals[i])
	}
	return w
}

// mark marks the cells of a goal.
func (w *whereabouts) mark(at int, g *goal) {
	wide := *g
	wide.within(g.limit + awayInCell)
	var lo, hi [3]int
	for i, v := range [3]float64{g.lab.L, g.lab.A, g.lab.B} {
		far := min(wide.reach[min(i, 1)], 1000)
		lo[i], hi[i] = cellOf(i, v-far), cellOf(i, v+far)
	}
	for l := lo[0]; l <= hi[0]; l++ {
		for a := lo[1]; a <= hi[1]; a++ {
			for b := lo[2]; b <= hi[2]; b++ {
				if atRim(l, cellsL) || atRim(a, cellsAB) || atRim(b, cellsAB) || wide.meets(l, a, b) {
					w.cells[((l*cellsAB+a)*cellsAB+b)*w.words+at/64] |= 1 << (at % 64)
				}
			}
		}
	}
}

// atRim reports whether a cell goes on without end.
func atRim(i, n int) bool { return i == 0 || i == n-1 }

// meets reports whether one of the colours asked of a cell lies within the goal.
func (g *goal) meets(l, a, b int) bool {
	for i := range inCell * inCell * inCell {
		mix := colour.Lab{
			L: cellL * (float64(l) + part(i)),
			A: lowestAB + float64(cellAB*(float64(a)+part(i/inCell))),
			B: lowestAB + float64(cellAB*(float64(b)+part(i/inCell/inCell))),
		}
		if _, ok := g.difference(mix); ok {
			return true
		}
	}
	return false
}

func part(i int) float64 { return (float64(i%inCell) + 0.5) / inCell }

// cellOf is the cell of a coordinate: of L* 0, a* 1, b* 2.
func cellOf(axis int, v float64) int {
	if axis == 0 {
		return min(max(int(math.Floor(v/cellL)), 0), cellsL-1)
	}
	return min(max(int(math.Floor((v-lowestAB)/cellAB)), 0), cellsAB-1)
}

// goals are the marks of the goals that a sketched colour may lie within.
func (w *whereabouts) goals(lab *[3]float32) marks {
	l := min(max(int(lab[0]*(1/cellL)), 0), cellsL-1)
	a := min(max(int((lab[1]-lowestAB)*(1/cellAB)), 0), cellsAB-1)
	b := min(max(int((lab[2]-lowestAB)*(1/cellAB)), 0), cellsAB-1)
	at := ((l*cellsAB+a)*cellsAB + b) * w.words
	return w.cells[at : at+w.words]
}
