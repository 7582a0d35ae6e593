package portable

import "math"

// Cbrt is the cube root, within 1 ulp.
func Cbrt(x float64) float64 {
	size := math.Abs(x)
	switch {
	case !(size > 0) || math.IsInf(size, 1):
		return x
	case size < 0x1p-1000:
		return Cbrt(x*0x1p300) * 0x1p-100
	case size > 0x1p1000:
		return Cbrt(x*0x1p-300) * 0x1p100
	}
	// A third of the exponent is within 5 % of the root; each of Halley's steps
	// takes three times the digits.
	y := math.Float64frombits(math.Float64bits(size)/3 + 0x2a9f7893<<32)
	for range 2 {
		cube := float64(y * y * y)
		y = y * ((cube + float64(2*size)) / (float64(2*cube) + size))
	}
	// Newton's last step, from what the cube lacks in twice the digits.
	square := float64(y * y)
	cube := float64(square * y)
	cubeLow := math.FMA(square, y, -cube) + float64(math.FMA(y, y, -square)*y)
	y -= ((cube - size) + cubeLow) / (3 * square)
	return math.Copysign(y, x)
}

// Hypot is the root of x^2 + y^2, within 2 ulp.
func Hypot(x, y float64) float64 {
	long, short := math.Abs(x), math.Abs(y)
	if short > long {
		long, short = short, long
	}
	switch {
	case math.IsInf(x, 0) || math.IsInf(y, 0):
		return math.Inf(1)
	case long == 0:
		return short // which may be NaN
	}
	ratio := short / long
	return long * math.Sqrt(1+float64(ratio*ratio))
}
