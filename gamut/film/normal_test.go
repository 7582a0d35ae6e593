package film

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// The bordered banded solution against gonum's dense Cholesky.
func TestBorderedBandMatchesDense(t *testing.T) {
	const n, width, m = 24, 5, 3
	rng := rand.New(rand.NewPCG(1, 2))
	sys := newNormal(n, width, m)
	dense := mat.NewSymDense(n+m, nil)
	gradient := mat.NewVecDense(n+m, nil)
	for row := range 200 {
		first := row % (n - width)
		index := []int{first, first + 1 + rng.IntN(width), n + rng.IntN(m)}
		slope := []float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		residual := rng.NormFloat64()
		sys.add(index, slope, residual)
		for a, i := range index {
			gradient.SetVec(i, gradient.AtVec(i)+slope[a]*residual)
			for b, j := range index {
				if i <= j {
					dense.SetSym(i, j, dense.At(i, j)+slope[a]*slope[b])
				}
			}
		}
	}
	const damping = 0.01
	for i := range n + m {
		dense.SetSym(i, i, dense.At(i, i)*(1+damping))
	}
	var chol mat.Cholesky
	if !chol.Factorize(dense) {
		t.Fatal("not positive definite")
	}
	var want mat.VecDense
	if err := chol.SolveVecTo(&want, gradient); err != nil {
		t.Fatal(err)
	}
	got, ok := sys.solve(damping)
	if !ok {
		t.Fatal("refused")
	}
	for i := range got {
		if math.Abs(got[i]-want.AtVec(i)) > 1e-10 {
			t.Errorf("%d: %g, want %g", i, got[i], want.AtVec(i))
		}
	}
}
