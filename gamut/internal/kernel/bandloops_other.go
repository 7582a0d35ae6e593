//go:build !amd64

package kernel

func sumBands(sum *Paint, paints []Paint, list []int, amounts []float64) {
	sumGeneric(sum, paints, list, amounts)
}

func seenBands(t *[3]float64, p *Point, o *Optics) { seenGeneric(t, p, o) }

func slopeBands(d *Paint, p *Point, k2 float64) { slopeGeneric(d, p, k2) }

func weighBands(t *[3]float64, d *Paint, o *Optics, paint *Paint) { weighGeneric(t, d, o, paint) }

func dotBands(p, q *Paint) float64 { return dotGeneric(p, q) }

func nextPair(g *Gauge, nearest *[Regions]float32, pairs []Pair, others []int, worst float32, d *[Lanes]float32) int {
	return nextPairGeneric(g, nearest, pairs, others, worst, d)
}
