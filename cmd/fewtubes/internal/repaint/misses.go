package repaint

import (
	"cmp"
	"slices"

	"fewtubes/gamut/colour"
)

// Miss is a colour out of reach that takes up some of the picture.
type Miss struct {
	Lab  colour.Lab // as it is to be painted
	Mix  colour.Lab // as it is painted
	Area float64    // of the picture, with what is like it, 0..1
	X, Y float64    // where most of it lies, fractions
}

const (
	mostMisses = 5
	leastMiss  = 0.001 // of the picture
	alike      = 10.0  // CIEDE2000 within which colours are one miss
	missSide   = 6     // of the cells in which they are gathered, CIELAB
)

// heap is the missed codes in one cell.
type heap struct {
	at       [3]int
	n        float64 // pixels
	weight   float64 // pixels times what they are off by more than is let pass
	lab, mix colour.Lab
}

// largest gathers the missed codes in cells and those in groups of like colours, the
// heaviest first. group is that of each code, counted from 1; 0 is none.
func (p *Painting) largest(most uint16) (misses []Miss, group []uint8) {
	group = make([]uint8, len(p.off))
	index := map[[3]int]int{}
	var heaps []heap
	heapOf := make([]int32, len(p.off)) // of each missed code, from 1
	for i, off := range p.off {
		if off <= most {
			continue
		}
		c, n := p.of.lab(p.of.codes[i]), float64(p.of.pixels[i])
		at := [3]int{int(c.L) / missSide, int(c.A+1024) / missSide, int(c.B+1024) / missSide}
		k, ok := index[at]
		if !ok {
			k = len(heaps)
			index[at] = k
			heaps = append(heaps, heap{at: at})
		}
		heapOf[i] = int32(k + 1)
		h, mix := &heaps[k], p.lab(i)
		h.n += n
		h.weight += float64(n * float64(off-most))
		h.lab = plus(h.lab, c, n)
		h.mix = plus(h.mix, mix, n)
	}
	for k := range heaps {
		h := &heaps[k]
		h.lab, h.mix = over(h.lab, h.n), over(h.mix, h.n)
	}
	order := make([]int, len(heaps))
	for k := range order {
		order[k] = k
	}
	slices.SortFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(heaps[b].weight, heaps[a].weight), slices.Compare(heaps[a].at[:], heaps[b].at[:]))
	})
	groupOf := make([]uint8, len(heaps))
	for _, k := range order {
		for g := range misses {
			if groupOf[k] == 0 && colour.DE2000(misses[g].Lab, heaps[k].lab) <= alike {
				groupOf[k] = uint8(g + 1)
			}
		}
		if groupOf[k] == 0 && len(misses) < mostMisses {
			misses = append(misses, Miss{Lab: heaps[k].lab, Mix: heaps[k].mix})
			groupOf[k] = uint8(len(misses))
		}
	}
	for i, k := range heapOf {
		if k > 0 {
			group[i] = groupOf[k-1]
		}
	}
	return misses, group
}

func plus(sum, c colour.Lab, n float64) colour.Lab {
	return colour.Lab{L: sum.L + float64(n*c.L), A: sum.A + float64(n*c.A), B: sum.B + float64(n*c.B)}
}

func over(sum colour.Lab, n float64) colour.Lab {
	return colour.Lab{L: sum.L / n, A: sum.A / n, B: sum.B / n}
}
