package gamut

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
