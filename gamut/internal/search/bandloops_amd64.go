package search

import "golang.org/x/sys/cpu"

// fourLanes says that this processor adds, multiplies, divides and takes roots
// of four numbers at once.
var fourLanes = cpu.X86.HasAVX2

func sumBands(sum *bands, paints []bands, list []int, amounts []float64) {
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

func seenBands(t *[3]float64, p *point, o *optics) {
	if !fourLanes {
		seenGeneric(t, p, o)
		return
	}
	seenWide(t, p, o)
}

func slopeBands(d *bands, p *point, k2 float64) {
	if !fourLanes {
		slopeGeneric(d, p, k2)
		return
	}
	slopeWide(d, p, k2)
}

func weighBands(t *[3]float64, d *bands, o *optics, paint *bands) {
	if !fourLanes {
		weighGeneric(t, d, o, paint)
		return
	}
	weighWide(t, d, o, paint)
}

func dotBands(p, q *bands) float64 {
	if !fourLanes {
		return dotGeneric(p, q)
	}
	return dotWide(p, q)
}

func nextPair(g *gauge, nearest *[hueRegions]float32, pairs []pair, others []int, worst float32, d *[pairLanes]float32) int {
	if !fourLanes || len(others) == 0 {
		return nextPairGeneric(g, nearest, pairs, others, worst, d)
	}
	_ = pairs[len(pairs)-1]
	return nextPairWide(g, nearest, &pairs[0], &others[0], len(others), worst, d)
}

//go:noescape
func nextPairWide(from *gauge, nearest *[hueRegions]float32, pairs *pair, others *int, n int, worst float32, d *[pairLanes]float32) int

//go:noescape
func sumWide(sum, paints *bands, list *int, amounts *float64, n int)

//go:noescape
func seenWide(t *[3]float64, p *point, o *optics)

//go:noescape
func slopeWide(d *bands, p *point, k2 float64)

//go:noescape
func weighWide(t *[3]float64, d *bands, o *optics, paint *bands)

//go:noescape
func dotWide(p, q *bands) float64
