package portable

import (
	"math"
	"testing"
)

func TestCompare(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct {
		a, b, step float64
		want       int
	}{
		{0.1 + 0.2, 0.3, Fine, 0}, {0.3, 0.300002, Fine, -1}, {2, 1, Fine, 1},
		{2.394, 2.386, Shown, 0}, {2.394, 2.396, Shown, -1}, {inf, inf, Shown, 0}, {inf, 1, Fine, 1}, {-0.001, 0.001, Shown, 0},
	} {
		if got := Compare(c.a, c.b, c.step); got != c.want {
			t.Errorf("Compare(%v, %v, %v) is %d, want %d", c.a, c.b, c.step, got, c.want)
		}
	}
}
