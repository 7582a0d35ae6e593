package certain

import (
	"math"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/portable"
)

// brief rounds x > 0 to so many significant digits.
func brief(x float64, digits int, round func(float64) float64) float64 {
	unit := math.Pow10(digits - 1 - portable.Decade(x))
	return round(x*unit) / unit
}

// outward rounds a limit to the side that allows more.
func outward(limit check.Row, x float64, digits int) float64 {
	if !(x > 0) {
		return x
	}
	round := math.Floor
	if limit == check.MostR || limit == check.MostS {
		round = math.Ceil
	}
	return brief(x, digits, round)
}
