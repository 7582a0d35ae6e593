package certain

import "math"

// factors is a small dense matrix factored by rows with partial pivoting.
type factors struct {
	k     int
	m     []float64
	swaps []int
	spare []float64
}

func grow(v []float64, n int) []float64 {
	if cap(v) < n {
		return make([]float64, n, 2*n)
	}
	return v[:n]
}

// room is a k x k matrix, row by row, to be filled before factor.
func (f *factors) room(k int) []float64 {
	f.k, f.m, f.spare = k, grow(f.m, k*k), grow(f.spare, k)
	if cap(f.swaps) < k {
		f.swaps = make([]int, 2*k)
	}
	f.swaps = f.swaps[:k]
	return f.m
}

// vector is scratch of length k, good until the next call.
func (f *factors) vector() []float64 { return f.spare }

// factor is false where the matrix is singular in floating point.
func (f *factors) factor() bool {
	k, m := f.k, f.m
	for c := range k {
		p := c
		for r := c + 1; r < k; r++ {
			if math.Abs(m[r*k+c]) > math.Abs(m[p*k+c]) {
				p = r
			}
		}
		f.swaps[c] = p
		if !(math.Abs(m[p*k+c]) > 1e-14) {
			return false
		}
		if p != c {
			for j := range k {
				m[p*k+j], m[c*k+j] = m[c*k+j], m[p*k+j]
			}
		}
		top := m[c*k : c*k+k]
		for r := c + 1; r < k; r++ {
			row := m[r*k : r*k+k]
			if row[c] == 0 {
				continue
			}
			v := row[c] / top[c]
			row[c] = v
			for j := c + 1; j < k; j++ {
				row[j] -= float64(v * top[j])
			}
		}
	}
	return true
}

// solve overwrites v with the inverse times v.
func (f *factors) solve(v []float64) {
	k, m := f.k, f.m
	for c, p := range f.swaps {
		v[c], v[p] = v[p], v[c]
	}
	for r := range k {
		for c := range r {
			v[r] -= float64(m[r*k+c] * v[c])
		}
	}
	for r := k - 1; r >= 0; r-- {
		for c := r + 1; c < k; c++ {
			v[r] -= float64(m[r*k+c] * v[c])
		}
		v[r] /= m[r*k+r]
	}
}

// solveTransposed overwrites v with the inverse of the transpose times v.
func (f *factors) solveTransposed(v []float64) {
	k, m := f.k, f.m
	for c := range k {
		for r := range c {
			v[c] -= float64(m[r*k+c] * v[r])
		}
		v[c] /= m[c*k+c]
	}
	for c := k - 1; c >= 0; c-- {
		for r := c + 1; r < k; r++ {
			v[c] -= float64(m[r*k+c] * v[r])
		}
	}
	for c := k - 1; c >= 0; c-- {
		p := f.swaps[c]
		v[c], v[p] = v[p], v[c]
	}
}
