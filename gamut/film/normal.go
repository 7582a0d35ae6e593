package film

import (
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// normal holds the normal equations of a least-squares problem whose first n
// unknowns are banded (row i meets columns i..i+width) and whose last m meet
// all of them.
type normal struct {
	n, width, m int
	band        blas64.SymmetricBand // upper, n x (width+1)
	border      []float64            // m x n, each border unknown against the banded
	corner      []float64            // m x m
	gradient    []float64            // n + m
}

func newNormal(n, width, m int) *normal {
	width = min(width, n-1)
	s := &normal{n: n, width: width, m: m}
	s.band = newBand(n, width)
	s.border = make([]float64, m*n)
	s.corner = make([]float64, m*m)
	s.gradient = make([]float64, n+m)
	return s
}

func newBand(n, width int) blas64.SymmetricBand {
	return blas64.SymmetricBand{Uplo: 'U', N: n, K: width, Stride: width + 1, Data: make([]float64, n*(width+1))}
}

func (s *normal) clear() {
	clear(s.band.Data)
	clear(s.border)
	clear(s.corner)
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
					s.band.Data[i*s.band.Stride+j-i] += v
				}
			case i >= s.n && j < s.n:
				s.border[(i-s.n)*s.n+j] += v
			case i >= s.n && j >= s.n:
				s.corner[(i-s.n)*s.m+j-s.n] += v
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

// factored solves with the normal equations: banded Cholesky for the banded
// part, the Schur complement for the border.
type factored struct {
	*normal
	chol  blas64.TriangularBand
	eaten blas64.General // n x m: banded part inverse times border
	schur mat.Cholesky
}

func (s *normal) factor(damping float64) (*factored, bool) {
	h := &factored{normal: s}
	work := newBand(s.n, s.width)
	copy(work.Data, s.band.Data)
	for i := range s.n {
		work.Data[i*work.Stride] *= 1 + damping
	}
	var ok bool
	if h.chol, ok = lapack64.Pbtrf(work); !ok {
		return nil, false
	}
	if s.m == 0 {
		return h, true
	}
	h.eaten = blas64.General{Rows: s.n, Cols: s.m, Stride: s.m, Data: make([]float64, s.n*s.m)}
	for k := range s.m {
		for i := range s.n {
			h.eaten.Data[i*s.m+k] = s.border[k*s.n+i]
		}
	}
	lapack64.Pbtrs(h.chol, h.eaten)
	schur := mat.NewSymDense(s.m, nil)
	for a := range s.m {
		for b := a; b < s.m; b++ {
			v := s.corner[a*s.m+b]
			if a == b {
				v *= 1 + damping
			}
			for i := range s.n {
				v -= float64(s.border[a*s.n+i] * h.eaten.Data[i*s.m+b])
			}
			schur.SetSym(a, b, v)
		}
	}
	return h, h.schur.Factorize(schur)
}

// solve is the whole inverse times v (length n + m).
func (h *factored) solve(v []float64) []float64 {
	out := append([]float64(nil), v...)
	lapack64.Pbtrs(h.chol, blas64.General{Rows: h.n, Cols: 1, Stride: 1, Data: out[:h.n]})
	if h.m == 0 {
		return out
	}
	right := mat.NewVecDense(h.m, nil)
	for k := range h.m {
		t := v[h.n+k]
		for i := range h.n {
			t -= float64(h.border[k*h.n+i] * out[i])
		}
		right.SetVec(k, t)
	}
	var tail mat.VecDense
	if err := h.schur.SolveVecTo(&tail, right); err != nil {
		return out // badly conditioned: the damping grows and tries again
	}
	for k := range h.m {
		out[h.n+k] = tail.AtVec(k)
		for i := range h.n {
			out[i] -= float64(h.eaten.Data[i*h.m+k] * tail.AtVec(k))
		}
	}
	return out
}
