package recipe

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/parallel"
)

// whereabouts tells which goals a colour may lie within, by the cell of CIELAB that
// it lies in and the piece of that cell. Both hold all goals that any colour in them
// lies within, and some more.
type whereabouts struct {
	words int      // of marks
	some  []uint64 // a bit for each cell: it has marks
	cells []uint64 // marks
	goals []pieces
}

// pieces are the cells about a goal, each in pieces of which it holds a bit.
type pieces struct {
	lo, n [3]int           // the first cell and the number of cells: of L*, a*, b*
	place []int32          // of a cell among those that are marked; -1: it is not
	bits  [][inCell]uint64 // of a cell, by L*; in each word by a* and then b*
}

const (
	cellsL, cellsAB = 42, 52
	cellL, cellAB   = 2.5, 5.0
	lowestAB        = -cellAB * cellsAB / 2

	bitsInCell = 3
	inCell     = 1 << bitsInCell // pieces of a cell along each side
	// awayInPiece bounds the CIEDE2000 from any colour of a piece, and a sketch that
	// lies there, to its middle: the half diagonal, 0.47, and the error of a sketch,
	// where a unit of CIELAB is two of CIEDE2000 at most.
	awayInPiece = 1.2
	// awayInEight is that for a cube of eight pieces.
	awayInEight = 2.2
)

func newWhereabouts(goals []goal) *whereabouts {
	w := &whereabouts{words: (len(goals) + 63) / 64, goals: make([]pieces, len(goals))}
	w.some = make([]uint64, (cellsL*cellsAB*cellsAB+63)/64)
	w.cells = make([]uint64, cellsL*cellsAB*cellsAB*w.words)
	parallel.Each(len(goals), func(i int) { w.goals[i].mark(&goals[i]) })
	for i := range goals {
		p := &w.goals[i]
		for at, place := range p.place {
			if place >= 0 {
				b := at % p.n[2]
				a := at / p.n[2] % p.n[1]
				l := at / p.n[2] / p.n[1]
				at := cell{l + p.lo[0], a + p.lo[1], b + p.lo[2]}.at()
				w.some[at/64] |= 1 << (at % 64)
				w.cells[at*w.words+i/64] |= 1 << (i % 64)
			}
		}
	}
	return w
}

// cell is a cell: along L*, a*, b*.
type cell [3]int

func (c cell) at() int { return (c[0]*cellsAB+c[1])*cellsAB + c[2] }

// atRim reports whether a cell goes on without end.
func (c cell) atRim() bool {
	atRim := func(i, n int) bool { return i == 0 || i == n-1 }
	return atRim(c[0], cellsL) || atRim(c[1], cellsAB) || atRim(c[2], cellsAB)
}

// mark marks the cells and pieces of a goal.
func (p *pieces) mark(g *goal) {
	coarse, fine := *g, *g
	coarse.within(g.limit + awayInEight)
	fine.within(g.limit + awayInPiece)
	for i, v := range [3]float64{g.lab.L, g.lab.A, g.lab.B} {
		far := min(coarse.reach[min(i, 1)], 1000) // anything, where it is infinite
		p.lo[i] = cellOf(i, v-far)
		p.n[i] = cellOf(i, v+far) - p.lo[i] + 1
	}
	for l := range p.n[0] {
		for a := range p.n[1] {
			for b := range p.n[2] {
				c := cell{l + p.lo[0], a + p.lo[1], b + p.lo[2]}
				bits, any := c.pieces(&coarse, &fine)
				if any {
					p.place = append(p.place, int32(len(p.bits)))
					p.bits = append(p.bits, bits)
				} else {
					p.place = append(p.place, -1)
				}
			}
		}
	}
}

// pieces are the pieces of a cell that lie within fine, asked where the eight of a cube
// lie within coarse and not surely within the goal; and all where the cell has no end.
func (c cell) pieces(coarse, fine *goal) (bits [inCell]uint64, any bool) {
	if c.atRim() {
		for l := range bits {
			bits[l] = math.MaxUint64
		}
		return bits, true
	}
	const surely = awayInEight - awayInPiece
	for cube := range inCell * inCell * inCell / 8 {
		l, a, b := 2*(cube/(inCell*inCell/4)), 2*(cube/(inCell/2)%(inCell/2)), 2*(cube%(inCell/2))
		de, ok := coarse.difference(c.middle(2, l, a, b))
		if !ok {
			continue
		}
		for i := range 8 {
			l, a, b := l+i/4, a+i/2%2, b+i%2
			near := de <= fine.limit-surely
			if !near {
				_, near = fine.difference(c.middle(1, l, a, b))
			}
			if near {
				bits[l] |= 1 << (a*inCell + b)
				any = true
			}
		}
	}
	return bits, any
}

// middle is the middle of a cube of so many pieces along each side, the first of them
// piece l, a, b of the cell.
func (c cell) middle(side, l, a, b int) colour.Lab {
	along := func(cell, piece int) float64 {
		return float64(2*(cell*inCell+piece)+side) / (2 * inCell)
	}
	return colour.Lab{
		L: float64(cellL * along(c[0], l)),
		A: lowestAB + float64(cellAB*along(c[1], a)),
		B: lowestAB + float64(cellAB*along(c[2], b)),
	}
}

// cellOf is the cell of a coordinate: of L* 0, a* 1, b* 2.
func cellOf(axis int, v float64) int {
	if axis == 0 {
		return min(max(int(math.Floor(v/cellL)), 0), cellsL-1)
	}
	return min(max(int(math.Floor((v-lowestAB)/cellAB)), 0), cellsAB-1)
}

// spot is a piece of CIELAB, numbered through all cells along L*, a*, b*.
type spot [3]int

// spotOf is where a sketched colour lies.
func spotOf(lab [3]float32) spot {
	return spot{
		min(max(int(lab[0]*(inCell/cellL)), 0), cellsL*inCell-1),
		min(max(int((lab[1]-lowestAB)*(inCell/cellAB)), 0), cellsAB*inCell-1),
		min(max(int((lab[2]-lowestAB)*(inCell/cellAB)), 0), cellsAB*inCell-1),
	}
}

// about appends the places of sketches whose cell is near some of the open goals.
func (w *whereabouts) about(out []int, labs []kernel.Sketches, open marks) []int {
	for e := range labs {
		var at [len(labs[e][0])]int32
		for i := range at {
			l := min(max(int32(labs[e][0][i]*(inCell/cellL)), 0), cellsL*inCell-1)
			a := min(max(int32((labs[e][1][i]-lowestAB)*(inCell/cellAB)), 0), cellsAB*inCell-1)
			b := min(max(int32((labs[e][2][i]-lowestAB)*(inCell/cellAB)), 0), cellsAB*inCell-1)
			at[i] = (l>>bitsInCell*cellsAB+a>>bitsInCell)*cellsAB + b>>bitsInCell
		}
		for i, at := range at {
			if w.some[uint32(at)/64]>>(uint32(at)%64)&1 == 0 {
				continue
			}
			cell := w.cells[int(at)*w.words:]
			for k, word := range open {
				if word&cell[k] != 0 {
					out = append(out, e*len(labs[e][0])+i)
					break
				}
			}
		}
	}
	return out
}

// near are the marks of the goals near the cell of a spot; nil: of none.
func (w *whereabouts) near(s spot) marks {
	at := (s[0]>>bitsInCell*cellsAB+s[1]>>bitsInCell)*cellsAB + s[2]>>bitsInCell
	if w.some[at/64]>>(at%64)&1 == 0 {
		return nil
	}
	return w.cells[at*w.words : (at+1)*w.words]
}

// nearer reports whether a goal that is near a spot's cell is near the spot, too.
func (w *whereabouts) nearer(goal int, s spot) bool {
	p := &w.goals[goal]
	l, a, b := s[0]/inCell-p.lo[0], s[1]/inCell-p.lo[1], s[2]/inCell-p.lo[2]
	return p.bits[p.place[(l*p.n[1]+a)*p.n[2]+b]][s[0]%inCell]>>(s[1]%inCell*inCell+s[2]%inCell)&1 == 1
}
