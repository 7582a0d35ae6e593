//go:build !amd64

package gamut

func sumBands(sum *bands, paints []bands, list []int, amounts []float64) {
	sumGeneric(sum, paints, list, amounts)
}

func seenBands(t *[3]float64, p *point, o *optics) { seenGeneric(t, p, o) }

func slopeBands(d *bands, p *point, k2 float64) { slopeGeneric(d, p, k2) }

func weighBands(t *[3]float64, d *bands, o *optics, paint *bands) { weighGeneric(t, d, o, paint) }

func dotBands(p, q *bands) float64 { return dotGeneric(p, q) }
