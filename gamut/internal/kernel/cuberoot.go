package kernel

import "math"

// labF is the CIELAB f of CIE 015 and its derivative, to some units in the last
// place. Three cube roots were more than half of what a mixture costs: this takes
// no division, and lets the processor work on all three at once.
func labF(t float64) (f, slope float64) {
	const epsilon, kappa = 216.0 / 24389, 24389.0 / 27
	if t <= epsilon {
		return (float64(kappa*t) + 16) / 116, kappa / 116
	}
	y := nearCubeRoot(nearCubeRoot(firstCubeRoot(t), t), t)
	square := y * y
	return t * square, square / 3
}

// firstCubeRoot is t to the power -1/3 within 3.5 %: a third of the exponent.
func firstCubeRoot(t float64) float64 {
	const magic = 0x553ef0ff289dd796 - 500<<33
	return math.Float64frombits(magic - math.Float64bits(t)/3)
}

// nearCubeRoot brings y nearer to t to the power -1/3: four terms of the series
// of (1-h)^(-1/3), h being what t y^3 lacks of 1.
func nearCubeRoot(y, t float64) float64 {
	h := 1 - float64(t*(y*y*y))
	return y + float64(y*h*(1./3+float64(h*(2./9+float64(h*(14./81))))))
}
