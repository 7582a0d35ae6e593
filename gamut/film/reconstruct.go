package film

import (
	"errors"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// ErrNoReflectance means that no film can have the colour: it is too
// saturated, or darker than the surface glare alone.
var ErrNoReflectance = errors.New("no paint film can have this colour")

// Reconstruct is the smoothest film of one colour, as seen through the surface:
// its internal reflectance is (1 + tanh z)/2 with the least sum of squared
// differences of z from band to band, the colour being met exactly. Under
// Surface{} it is the least-hyperbolic-tangent-slope-squared reflectance of
// S. A. Burns, "Numerical methods for smoothest reflectance reconstruction",
// Color Res. Appl. 45:8-21, 2020 (from memory).
func Reconstruct(target colour.Lab, light *colour.Light, surface Surface) (colour.Spectrum, error) {
	var seen colour.Spectrum
	if !target.Finite() {
		return seen, ErrNoReflectance
	}
	xyz := target.XYZ(light.White)
	goal := [3]float64{xyz.X, xyz.Y, xyz.Z}
	const n = colour.Bands
	z, multiplier := make([]float64, n), [3]float64{}
	for range 200 {
		system, right := portable.NewMatrix(n+3), make([]float64, n+3)
		addLeastSlope(system, right, z)
		worst := 0.0
		got := [3]float64{}
		for i := range n {
			s, first, second := bent(z[i], surface)
			for k := range 3 {
				w := light.Weights[k][i]
				got[k] += float64(w * s)
				right[i] += float64(multiplier[k] * w * first)
				system[i][i] += float64(multiplier[k] * w * second)
				system[i][n+k] = w * first
				system[n+k][i] = w * first
			}
		}
		for k := range 3 {
			right[n+k] = got[k] - goal[k]
		}
		for _, r := range right {
			worst = max(worst, math.Abs(r))
		}
		if worst < 1e-9 {
			for i := range seen {
				seen[i], _, _ = bent(z[i], surface)
			}
			return seen, nil
		}
		if !system.Solve(right) {
			return seen, ErrNoReflectance
		}
		for i := range z {
			z[i] -= right[i]
			if !(math.Abs(z[i]) < 30) {
				return seen, ErrNoReflectance
			}
		}
		for k := range multiplier {
			multiplier[k] -= right[n+k]
		}
	}
	return seen, ErrNoReflectance
}

// bent is the reflectance seen for internal reflectance (1 + tanh z)/2, with
// its first two derivatives in z.
func bent(z float64, surface Surface) (seen, first, second float64) {
	t := portable.Tanh(z)
	r, r1 := (1+t)/2, (1-float64(t*t))/2
	r2 := -2 * t * r1
	s1 := surface.slope(r)
	s2 := s1 * 2 * surface.K2 / (1 - float64(surface.K2*r))
	return surface.Seen(r), s1 * r1, float64(s2*r1*r1) + float64(s1*r2)
}

// addLeastSlope adds the gradient and curvature of half the sum of squared
// differences of neighbours.
func addLeastSlope(system portable.Matrix, right, z []float64) {
	for i := 1; i < len(z); i++ {
		d := z[i] - z[i-1]
		right[i] += d
		right[i-1] -= d
		system[i][i]++
		system[i-1][i-1]++
		system[i][i-1]--
		system[i-1][i]--
	}
}
