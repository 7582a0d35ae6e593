package packing

import "math"

// sizesML are the tube sizes oil paint is usually sold in, usable the share of
// a tube that can be squeezed out, and the weight of tube and cap; usualDensity
// stands in for a tube without one. All common practice, no source.
var sizesML = []float64{20, 40, 60, 120, 200}

const (
	usable       = 0.95
	emptyGrams   = 5.0
	emptyPerML   = 0.1
	usualDensity = 1.5 // g/ml
)

// take picks the smallest tube that holds enough; beyond the largest, as many
// of the largest as are used up and one for the rest.
func take(ml float64) (out []Take) {
	largest := sizesML[len(sizesML)-1]
	full := int(math.Floor(ml / (largest * usable)))
	if full > 0 {
		out = append(out, Take{full, largest})
		ml -= float64(float64(full) * largest * usable)
	}
	if ml < 1e-9 {
		return out
	}
	for _, size := range sizesML {
		if ml > size*usable {
			continue
		}
		if size == largest && full > 0 {
			out[0].Count++
			return out
		}
		return append(out, Take{1, size})
	}
	return append(out, Take{1, largest})
}

// grams is the weight of full tubes.
func grams(tubes []Take, density float64) int {
	sum := 0.0
	for _, t := range tubes {
		sum += float64(float64(t.Count) * (float64(t.SizeML*density) + emptyGrams + float64(emptyPerML*t.SizeML)))
	}
	return int(math.Round(sum))
}
