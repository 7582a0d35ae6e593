package film

import (
	"errors"
	"math"

	"fewtubes/gamut/colour"

	"gonum.org/v1/gonum/mat"
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
		system, right := mat.NewDense(n+3, n+3, nil), mat.NewVecDense(n+3, nil)
		addLeastSlope(system, right, z)
		worst := 0.0
		got := [3]float64{}
		for i := range n {
			s, first, second := bent(z[i], surface)
			for k := range 3 {
				w := light.Weights[k][i]
				got[k] += float64(w * s)
				right.SetVec(i, right.AtVec(i)+float64(multiplier[k]*w*first))
				system.Set(i, i, system.At(i, i)+float64(multiplier[k]*w*second))
				system.Set(i, n+k, w*first)
				system.Set(n+k, i, w*first)
			}
		}
		for k := range 3 {
			right.SetVec(n+k, got[k]-goal[k])
		}
		for i := range n + 3 {
			worst = max(worst, math.Abs(right.AtVec(i)))
		}
		if worst < 1e-9 {
			for i := range seen {
				seen[i], _, _ = bent(z[i], surface)
			}
			return seen, nil
		}
		var step mat.VecDense
		if err := step.SolveVec(system, right); err != nil && math.IsInf(condition(err), 1) {
			return seen, ErrNoReflectance
		}
		for i := range z {
			z[i] -= step.AtVec(i)
			if !(math.Abs(z[i]) < 30) {
				return seen, ErrNoReflectance
			}
		}
		for k := range multiplier {
			multiplier[k] -= step.AtVec(n + k)
		}
	}
	return seen, ErrNoReflectance
}

// bent is the reflectance seen for internal reflectance (1 + tanh z)/2, with
// its first two derivatives in z.
func bent(z float64, surface Surface) (seen, first, second float64) {
	t := math.Tanh(z)
	r, r1 := (1+t)/2, (1-float64(t*t))/2
	r2 := -2 * t * r1
	s1 := surface.slope(r)
	s2 := s1 * 2 * surface.K2 / (1 - float64(surface.K2*r))
	return surface.Seen(r), s1 * r1, float64(s2*r1*r1) + float64(s1*r2)
}

// addLeastSlope adds the gradient and curvature of half the sum of squared
// differences of neighbours.
func addLeastSlope(system *mat.Dense, right *mat.VecDense, z []float64) {
	for i := 1; i < len(z); i++ {
		d := z[i] - z[i-1]
		right.SetVec(i, right.AtVec(i)+d)
		right.SetVec(i-1, right.AtVec(i-1)-d)
		system.Set(i, i, system.At(i, i)+1)
		system.Set(i-1, i-1, system.At(i-1, i-1)+1)
		system.Set(i, i-1, system.At(i, i-1)-1)
		system.Set(i-1, i, system.At(i-1, i)-1)
	}
}

// condition is the condition number gonum complains of, 0 for other errors.
func condition(err error) float64 {
	var c mat.Condition
	if errors.As(err, &c) {
		return float64(c)
	}
	return 0
}
