//go:build !amd64

package search

func sumBands(sum *bands, paints []bands, list []int, amounts []float64) {
	sumGeneric(sum, paints, list, amounts)
}

func seenBands(t *[3]float64, p *point, o *optics) { seenGeneric(t, p, o) }

func slopeBands(d *bands, p *point, k2 float64) { slopeGeneric(d, p, k2) }

func weighBands(t *[3]float64, d *bands, o *optics, paint *bands) { weighGeneric(t, d, o, paint) }

func dotBands(p, q *bands) float64 { return dotGeneric(p, q) }

func nextPair(g *gauge, nearest *[hueRegions]float32, pairs []pair, others []int, worst float32, d *[pairLanes]float32) int {
	return nextPairGeneric(g, nearest, pairs, others, worst, d)
}
