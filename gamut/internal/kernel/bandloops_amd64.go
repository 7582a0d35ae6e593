package kernel

import "golang.org/x/sys/cpu"

// fourLanes says that this processor adds, multiplies, divides and takes roots
// of four numbers at once.
var fourLanes = cpu.X86.HasAVX2

func sumBands(sum *Paint, paints []Paint, list []int, amounts []float64) {
	if !fourLanes {
		sumGeneric(sum, paints, list, amounts)
		return
	}
	for _, p := range list {
		_ = paints[p]
	}
	_ = amounts[len(list)-1]
	sumWide(sum, &paints[0], &list[0], &amounts[0], len(list))
}

func seenBands(t *[3]float64, p *Point, o *Optics) {
	if !fourLanes {
		seenGeneric(t, p, o)
		return
	}
	seenWide(t, p, o)
}

func slopeBands(d *Paint, p *Point, k2 float64) {
	if !fourLanes {
		slopeGeneric(d, p, k2)
		return
	}
	slopeWide(d, p, k2)
}

func weighBands(t *[3]float64, d *Paint, o *Optics, paint *Paint) {
	if !fourLanes {
		weighGeneric(t, d, o, paint)
		return
	}
	weighWide(t, d, o, paint)
}

func dotBands(p, q *Paint) float64 {
	if !fourLanes {
		return dotGeneric(p, q)
	}
	return dotWide(p, q)
}

func nextPair(g *Gauge, nearest *[Regions]float32, pairs []Pair, others []int, worst float32, d *[Lanes]float32) int {
	if !fourLanes || len(others) == 0 {
		return nextPairGeneric(g, nearest, pairs, others, worst, d)
	}
	_ = pairs[len(pairs)-1]
	return nextPairWide(g, nearest, &pairs[0], &others[0], len(others), worst, d)
}

//go:noescape
func nextPairWide(from *Gauge, nearest *[Regions]float32, pairs *Pair, others *int, n int, worst float32, d *[Lanes]float32) int

//go:noescape
func sumWide(sum, paints *Paint, list *int, amounts *float64, n int)

//go:noescape
func seenWide(t *[3]float64, p *Point, o *Optics)

//go:noescape
func slopeWide(d *Paint, p *Point, k2 float64)

//go:noescape
func weighWide(t *[3]float64, d *Paint, o *Optics, paint *Paint)

//go:noescape
func dotWide(p, q *Paint) float64
