package check

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// form is linear in the amounts and has no constant term: on one paint it is
// n N + the sum over the bands of k K + s S. All rows are forms.
type form[T number[T]] struct {
	k, s [colour.Bands]T
	n    T
}

// newForm is nothing of everything, in the numbers of one of them.
func newForm[T number[T]](one T) *form[T] {
	f := &form[T]{}
	zero := one.of(0)
	for b := range f.k {
		f.k[b], f.s[b] = zero, zero
	}
	f.n = zero
	return f
}

// addLimit adds times the row of a limit x in band b: >= 0 for the mixes that
// keep the limit.
func (f *form[T]) addLimit(times T, kind Row, b int, x float64) {
	v := times.of(x)
	if kind == LeastR || kind == LeastS {
		times = times.of(0).minus(times)
	}
	switch kind {
	case MostR, LeastR:
		dark := times.of(1).minus(v)
		f.k[b] = f.k[b].plus(times.times(v.plus(v)))
		f.s[b] = f.s[b].minus(times.times(dark.times(dark)))
	case MostS, LeastS:
		f.n = f.n.plus(times.times(v))
		f.s[b] = f.s[b].minus(times)
	}
}

// addForm adds times another.
func (f *form[T]) addForm(times T, g *form[T]) {
	for b := range f.k {
		f.k[b] = f.k[b].plus(times.times(g.k[b]))
		f.s[b] = f.s[b].plus(times.times(g.s[b]))
	}
	f.n = f.n.plus(times.times(g.n))
}

// on is the value on one paint.
func on(f *form[rational], p *film.Paint, norm float64) rational {
	sum := f.n.times(f.n.of(norm))
	for b := range f.k {
		sum = sum.plus(f.k[b].times(f.n.of(p.K[b]))).plus(f.s[b].times(f.n.of(p.S[b])))
	}
	return sum
}

// surelyAbove proves that a form is above zero on every paint; false says
// nothing. The least values are summed in plain float64: K, S and norm are
// above 0, and a sum of m products errs by less than m 2^-52 times the sum of
// their sizes (Higham, Accuracy and Stability of Numerical Algorithms, 2nd ed.,
// section 3.1), for which 2^-44 is room enough.
func surelyAbove(f *form[interval], paints []film.Paint, norms []float64) bool {
	const room, least = 0x1p-44, 0x1p-900
	var k, s [colour.Bands]float64 // sizes
	for b := range k {
		k[b], s[b] = math.Abs(f.k[b].lo), math.Abs(f.s[b].lo)
	}
	for i := range paints {
		p := &paints[i]
		sum, size := f.n.lo*norms[i], math.Abs(f.n.lo)*norms[i]
		for b := range k {
			sum += float64(f.k[b].lo*p.K[b]) + float64(f.s[b].lo*p.S[b])
			size += float64(k[b]*p.K[b]) + float64(s[b]*p.S[b])
		}
		if !(sum > float64(room*size)+least) {
			return false
		}
	}
	return true
}
