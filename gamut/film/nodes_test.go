package film

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"

	"gonum.org/v1/gonum/interp"
	"gonum.org/v1/gonum/mat"
)

// The spline and its least squares against gonum's.
func TestSplineAgreesWithLibrary(t *testing.T) {
	at := make([]float64, NodeCount)
	for i := range at {
		at[i] = float64(NodeStartNM + i*NodeStepNM)
	}
	basis := mat.NewDense(colour.Bands, NodeCount, nil)
	for i := range at {
		unit := make([]float64, NodeCount)
		unit[i] = 1
		var spline interp.NaturalCubic
		if err := spline.Fit(at, unit); err != nil {
			t.Fatal(err)
		}
		for b := range colour.Bands {
			basis.Set(b, i, spline.Predict(float64(colour.StartNM+b*colour.StepNM)))
		}
	}
	rng := rand.New(rand.NewPCG(19, 36))
	var nodes [NodeCount]float64
	for i := range nodes {
		nodes[i] = math.Exp(2 * rng.NormFloat64())
	}
	logs := mat.NewVecDense(NodeCount, nil)
	for i, x := range nodes {
		logs.SetVec(i, math.Log(x))
	}
	var want mat.VecDense
	want.MulVec(basis, logs)
	got := fromNodes(&nodes)
	for b, x := range got {
		if w := math.Exp(want.AtVec(b)); math.Abs(x/w-1) > 1e-13 {
			t.Errorf("band %d: %g, want %g", b, x, w)
		}
	}

	for b := range got {
		got[b] *= math.Exp(0.1 * rng.NormFloat64())
		want.SetVec(b, math.Log(got[b]))
	}
	var best mat.VecDense
	if err := best.SolveVec(basis, &want); err != nil {
		t.Fatal(err)
	}
	for i, x := range toNodes(&got) {
		if w := math.Exp(best.AtVec(i)); math.Abs(x/w-1) > 0.005 { // three digits
			t.Errorf("node %d: %g, want %g", i, x, w)
		}
	}
}
