package portable

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// Random systems against gonum's.
func TestSolveAgreesWithLibrary(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for range 300 {
		n := 1 + rng.IntN(40)
		m, b := NewMatrix(n), make([]float64, n)
		dense, right := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
		for i := range n {
			for j := range n {
				m[i][j] = rng.NormFloat64()
				if rng.IntN(4) == 0 {
					m[i][j] = 0
				}
				dense.Set(i, j, m[i][j])
			}
			b[i] = rng.NormFloat64()
			right.SetVec(i, b[i])
		}
		var want mat.VecDense
		err := want.SolveVec(dense, right)
		if ok := m.Solve(b); !ok {
			if err == nil {
				t.Fatalf("%d unknowns: refused", n)
			}
			continue
		}
		if err != nil {
			continue
		}
		for i, x := range b {
			if math.Abs(x-want.AtVec(i)) > 1e-12*mat.Cond(dense, 2)*(1+math.Abs(x)) {
				t.Errorf("%d unknowns: x[%d] is %g, want %g", n, i, x, want.AtVec(i))
			}
		}
	}
	for _, singular := range []Matrix{{{0}}, {{1, 2}, {2, 4}}, {{0, 1}, {0, 3}}, {{math.NaN()}}} {
		if singular.Solve(make([]float64, len(singular))) {
			t.Errorf("%v is solved", singular)
		}
	}
}
