package sample

import (
	"slices"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Left is a colour that stands for cells left out, and where most of it lies.
type Left struct {
	Lab  colour.Lab // to a tenth
	Area float64    // of all the photographs, with what it brings along, 0..1
	At   *scene.Spot

	plane int8 // index into scene.Planes, -1 none
}

const (
	mostLeft  = 600   // cells looked at, the largest
	leastLeft = 0.001 // of the photographs
	along     = 10.0  // CIEDE2000 within which a colour brings along what is less far out
	enough    = 0.8   // of the area that the farthest brings along
)

// Leaves are at most so many colours that stand for the cells beyond reach, the largest
// area first; beyond says how far out each cell lies, CIEDE2000 over the tolerance, 0 or
// less where it is not left out. A palette that reaches a colour mostly reaches those
// around it that are less far out: each of the list brings those along.
func (b *Brushed) Leaves(beyond []float64, most int) (list []Left) {
	var ids []int
	for i, far := range beyond {
		if far > 0 {
			ids = append(ids, i)
		}
	}
	slices.SortStableFunc(ids, func(i, j int) int { return portable.Compare(b.points[j].area, b.points[i].area, portable.Fine) })
	ids = ids[:min(len(ids), mostLeft)]
	for len(list) < most {
		best, brought, area := b.telling(ids, beyond)
		if best < 0 || area < leastLeft {
			break
		}
		lab := b.points[best].lab
		t := scene.Target{Lab: colour.Lab{L: tenth(lab.L), A: tenth(lab.A), B: tenth(lab.B)}}
		if p := b.points[best].plane; p >= 0 {
			t.Plane = scene.Planes[p]
		}
		list = append(list, Left{t.Lab, area, find(b.views, &t), b.points[best].plane})
		ids = slices.DeleteFunc(ids, func(i int) bool { return slices.Contains(brought, i) })
	}
	return list
}

// telling is the cell that is least far out of those that bring along enough area, with
// what it brings along; -1 where there is none.
func (b *Brushed) telling(ids []int, beyond []float64) (best int, brought []int, area float64) {
	all, sums, most := make([][]int, len(ids)), make([]float64, len(ids)), 0.0
	for k, i := range ids {
		for _, j := range ids {
			if beyond[j] <= beyond[i] && colour.DE2000(b.points[i].lab, b.points[j].lab) <= along {
				all[k], sums[k] = append(all[k], j), sums[k]+b.points[j].area
			}
		}
		most = max(most, sums[k])
	}
	best = -1
	for k, i := range ids {
		if portable.Compare(sums[k], enough*most, portable.Fine) >= 0 && (best < 0 || portable.Compare(beyond[i], beyond[best], portable.Fine) < 0) {
			best, brought, area = i, all[k], sums[k]
		}
	}
	return best, brought, area
}
