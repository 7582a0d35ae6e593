package film

import "slices"

// normal holds the normal equations of a least-squares problem whose first n
// unknowns are banded (row i meets columns i..i+width) and whose last m meet
// all of them.
type normal struct {
	n, m     int
	band     banded    // n x n
	border   []float64 // m x n, each border unknown against the banded
	corner   banded    // m x m
	gradient []float64 // n + m
}

func newNormal(n, width, m int) *normal {
	return &normal{
		n: n, m: m,
		band:     newBanded(n, min(width, n-1)),
		border:   make([]float64, m*n),
		corner:   newBanded(m, m-1),
		gradient: make([]float64, n+m),
	}
}

func (s *normal) clear() {
	clear(s.band.data)
	clear(s.border)
	clear(s.corner.data)
	clear(s.gradient)
}

// add takes in one residual and its slopes against some unknowns.
func (s *normal) add(index []int, slope []float64, residual float64) {
	for a, i := range index {
		s.gradient[i] += float64(slope[a] * residual)
		for c, j := range index {
			v := float64(slope[a] * slope[c])
			switch {
			case i < s.n && j < s.n:
				if i <= j {
					s.band.row(i)[j-i] += v
				}
			case i >= s.n && j < s.n:
				s.border[(i-s.n)*s.n+j] += v
			case i >= s.n && j >= i:
				s.corner.row(i - s.n)[j-i] += v
			}
		}
	}
}

// solve is the step (J'J + damping diag) step = gradient; ok is false where the
// matrix is not positive definite in floating point.
func (s *normal) solve(damping float64) (step []float64, ok bool) {
	h, ok := s.factor(damping)
	if !ok {
		return nil, false
	}
	return h.solve(s.gradient), true
}

// factored solves with the normal equations: Cholesky for the banded part, the
// Schur complement for the border.
type factored struct {
	*normal
	inner banded
	eaten []float64 // m x n: banded part inverse times border
	schur banded
}

func (s *normal) factor(damping float64) (*factored, bool) {
	h := &factored{normal: s, inner: s.band.damped(damping), eaten: slices.Clone(s.border), schur: s.corner.damped(damping)}
	if !h.inner.factor() {
		return nil, false
	}
	for k := range s.m {
		h.inner.solve(s.of(h.eaten, k))
	}
	for a := range s.m {
		row := h.schur.row(a)
		for b := range row {
			row[b] -= product(s.of(s.border, a), s.of(h.eaten, a+b))
		}
	}
	return h, h.schur.factor()
}

// damped is a copy with its diagonal raised by a share.
func (a *banded) damped(damping float64) banded {
	out := banded{a.n, a.width, slices.Clone(a.data)}
	for i := range out.n {
		out.row(i)[0] *= 1 + damping
	}
	return out
}

// of is row k of the border or of what it is eaten to.
func (s *normal) of(border []float64, k int) []float64 { return border[k*s.n : (k+1)*s.n] }

// solve is the whole inverse times v (length n + m).
func (h *factored) solve(v []float64) []float64 {
	out := slices.Clone(v)
	inner, tail := out[:h.n], out[h.n:]
	h.inner.solve(inner)
	for k := range tail {
		tail[k] -= product(h.of(h.border, k), inner)
	}
	h.schur.solve(tail)
	for k, t := range tail {
		subtract(inner, h.of(h.eaten, k), t)
	}
	return out
}
