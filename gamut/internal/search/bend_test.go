package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// Bent residuals have the gradient of the published difference, and its curvature where
// that is upwards, by differences of the plain formula.
func TestBend(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(39, 1))
	upwards := 0
	for range 300 {
		target := colour.LCh{L: 100 * rng.Float64(), C: 20 + 60*rng.Float64(), H: 360 * rng.Float64()}.Lab()
		w.begin(target, set.Full(m.Len()))
		w.list = append(w.list[:0], samples.Palette(m.Len(), 3, 3, rng)...)
		w.amount = append(w.amount[:0], rng.Float64(), rng.Float64(), rng.Float64())
		normalise(w.amount)
		w.evaluate()
		if w.aim.Within(0.05) { // differences would cross the edge
			continue
		}
		half := func(da, db float64) float64 {
			lab := w.here.Lab
			d := colour.DE2000(colour.Lab{L: lab.L, A: lab.A + da, B: lab.B + db}, target)
			return d * d / 2
		}
		const h = 1e-3
		gradient := [2]float64{(half(h, 0) - half(-h, 0)) / (2 * h), (half(0, h) - half(0, -h)) / (2 * h)}
		var curve [2][2]float64
		curve[0][0] = (half(h, 0) - 2*half(0, 0) + half(-h, 0)) / (h * h)
		curve[1][1] = (half(0, h) - 2*half(0, 0) + half(0, -h)) / (h * h)
		curve[0][1] = (half(h, h) - half(h, -h) - half(-h, h) + half(-h, -h)) / (4 * h * h)
		w.bend()
		got := w.aim.Gradient()
		d := &w.aim.DAB
		for k := range gradient {
			if math.Abs(got[k]-gradient[k]) > 1e-3*(1+math.Abs(gradient[k])) {
				t.Errorf("%v: gradient %v, want %v", w.here.Lab, got, gradient)
			}
		}
		determinant := curve[0][0]*curve[1][1] - curve[0][1]*curve[0][1]
		if trace := curve[0][0] + curve[1][1]; determinant < 4*flattest*trace*trace || trace < 0 {
			continue
		}
		upwards++
		for i := range 2 {
			for j := i; j < 2; j++ {
				if is := d[0][i]*d[0][j] + d[1][i]*d[1][j]; math.Abs(is-curve[i][j]) > 0.02*(curve[0][0]+curve[1][1]) {
					t.Errorf("%v: curvature %d %d is %g, want %g", w.here.Lab, i, j, is, curve[i][j])
				}
			}
		}
	}
	if upwards < 60 {
		t.Errorf("only %d bent upwards", upwards)
	}
}
