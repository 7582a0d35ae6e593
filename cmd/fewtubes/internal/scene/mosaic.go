package scene

import (
	"slices"

	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/portable"
)

const mosaicWide, mosaicHigh = 300, 200 // pixels

// Mosaic is the scene's values as a picture of blocks: its planes one above the
// other, each as high as its colours' areas, which are as wide as theirs, darkest
// first. What has no plane lies at the foot.
func (s *Scene) Mosaic() values.Grey {
	var rows [][]*Target
	var areas []float64
	for _, plane := range append([]string{"sky", "distance", "middle", "foreground"}, "") {
		var row []*Target
		var area float64
		for i := range s.Targets {
			if t := &s.Targets[i]; t.Plane == plane && t.Area > 0 {
				row = append(row, t)
				area += t.Area
			}
		}
		if len(row) > 0 {
			slices.SortStableFunc(row, func(a, b *Target) int { return portable.Compare(a.Lab.L, b.Lab.L, portable.Fine) })
			rows, areas = append(rows, row), append(areas, area)
		}
	}
	if len(rows) == 0 { // nothing has an area: each as much as the next
		even := *s
		even.Targets = slices.Clone(s.Targets)
		for i := range even.Targets {
			even.Targets[i].Area = 1
		}
		return even.Mosaic()
	}
	g := values.Grey{W: mosaicWide, H: mosaicHigh, L: make([]float64, mosaicWide*mosaicHigh)}
	for y := range mosaicHigh {
		row := rows[holding(areas, (float64(y)+0.5)/mosaicHigh)]
		within := make([]float64, len(row))
		for i, t := range row {
			within[i] = t.Area
		}
		for x := range mosaicWide {
			g.L[y*mosaicWide+x] = min(max(row[holding(within, (float64(x)+0.5)/mosaicWide)].Lab.L, 0), 100)
		}
	}
	return g
}

// holding is the part that holds a fraction of the whole.
func holding(parts []float64, at float64) int {
	var sum float64
	for _, v := range parts {
		sum += v
	}
	left := float64(at * sum)
	for i, v := range parts {
		if left -= v; left < 0 {
			return i
		}
	}
	return len(parts) - 1
}
