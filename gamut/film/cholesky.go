package film

import "math"

// banded is a symmetric matrix whose row i meets columns i..i+width, and once
// factored the upper triangle U of U'U. The libraries' sums differ from processor
// to processor, in their order and in what is fused; these do not.
type banded struct {
	n, width int
	data     []float64 // n rows of width+1, the diagonal first
}

func newBanded(n, width int) banded {
	return banded{n, width, make([]float64, n*(width+1))}
}

// row is row i from its diagonal on, as far as the matrix goes.
func (a *banded) row(i int) []float64 {
	at := i * (a.width + 1)
	return a.data[at : at+min(a.width+1, a.n-i)]
}

// factor is Cholesky's, in place; false where the matrix is not positive definite
// in floating point.
func (a *banded) factor() bool {
	for i := range a.n {
		row := a.row(i)
		if !(row[0] > 0) {
			return false
		}
		row[0] = math.Sqrt(row[0])
		for j := 1; j < len(row); j++ {
			row[j] /= row[0]
		}
		for j := 1; j < len(row); j++ {
			subtract(a.row(i+j), row[j:], row[j])
		}
	}
	return true
}

// solve replaces v by the inverse times v, of a factored matrix.
func (a *banded) solve(v []float64) {
	for i := range a.n {
		row := a.row(i)
		v[i] /= row[0]
		subtract(v[i+1:], row[1:], v[i])
	}
	for i := a.n - 1; i >= 0; i-- {
		row := a.row(i)
		v[i] = (v[i] - product(row[1:], v[i+1:])) / row[0]
	}
}

// subtract takes y times x off dst, as far as x goes.
func subtract(dst, x []float64, y float64) {
	if y == 0 {
		return
	}
	dst = dst[:len(x)]
	for i, v := range x {
		dst[i] -= float64(v * y)
	}
}

// product is the scalar product of x and the beginning of y, in two sums.
func product(x, y []float64) float64 {
	y = y[:len(x)]
	var even, odd float64
	for i := 1; i < len(x); i += 2 {
		even += float64(x[i-1] * y[i-1])
		odd += float64(x[i] * y[i])
	}
	if n := len(x); n%2 == 1 {
		even += float64(x[n-1] * y[n-1])
	}
	return even + odd
}
