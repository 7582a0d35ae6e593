package certain

import (
	"math"

	"fewtubes/gamut/portable"
)

// sphere spreads n directions evenly over the unit sphere (Fibonacci lattice).
func sphere(n int) [][3]float64 {
	out := make([][3]float64, n)
	for i := range out {
		z := 1 - (float64(2*float64(i))+1)/float64(n)
		s, c := portable.Sincos(float64(i) * math.Pi * (3 - math.Sqrt(5)))
		r := math.Sqrt(1 - float64(z*z))
		out[i] = [3]float64{r * c, r * s, z}
	}
	return out
}
