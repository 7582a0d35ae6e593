package doubt

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
)

// The bound is a quantile of a beta distribution (Clopper and Pearson 1934; the identity
// of binomial tails and the incomplete beta function, DLMF 8.17.5), here by gonum's.
func TestAtLeast(t *testing.T) {
	for _, c := range []struct{ k, n int }{{0, 10}, {1, 10}, {5, 10}, {9, 10}, {10, 10}, {475, 500}, {950, 1000}, {999, 1000}, {1000, 1000}, {37, 1000}} {
		want := 0.0
		if c.k > 0 {
			want = mathext.InvRegIncBeta(float64(c.k), float64(c.n-c.k+1), 0.01)
		}
		if got := AtLeast(c.k, c.n); math.Abs(got-math.Floor(want*1000)/1000) > 1e-12 {
			t.Errorf("%d of %d: at least %v, want %.5f rounded down", c.k, c.n, got, want)
		}
	}
	// Where all of n come up: probability p^n.
	if got, want := AtLeast(1000, 1000), math.Floor(math.Pow(0.01, 0.001)*1000)/1000; got != want {
		t.Errorf("%v, want %v", got, want)
	}
}
