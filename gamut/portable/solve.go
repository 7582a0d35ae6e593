package portable

import "math"

// Matrix is square, row by row.
type Matrix [][]float64

// NewMatrix is n by n zeros.
func NewMatrix(n int) Matrix {
	m, all := make(Matrix, n), make([]float64, n*n)
	for i := range m {
		m[i] = all[i*n : (i+1)*n]
	}
	return m
}

// Solve replaces b by the x of m x = b, by Gaussian elimination with partial
// pivoting, which also uses m up; false where m is singular.
func (m Matrix) Solve(b []float64) bool {
	for k := range m {
		best := k
		for i := k + 1; i < len(m); i++ {
			if math.Abs(m[i][k]) > math.Abs(m[best][k]) {
				best = i
			}
		}
		m[k], m[best] = m[best], m[k]
		b[k], b[best] = b[best], b[k]
		pivot := m[k]
		if !(math.Abs(pivot[k]) > 0) { // NaN, too
			return false
		}
		for i := k + 1; i < len(m); i++ {
			by := m[i][k] / pivot[k]
			if by == 0 {
				continue
			}
			for j := k + 1; j < len(m); j++ {
				m[i][j] -= float64(by * pivot[j])
			}
			b[i] -= float64(by * b[k])
		}
	}
	for k := len(m) - 1; k >= 0; k-- {
		for j := k + 1; j < len(m); j++ {
			b[k] -= float64(m[k][j] * b[j])
		}
		b[k] /= m[k][k]
	}
	return true
}
