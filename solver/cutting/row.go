package cutting

import "math/big"

// row is a constraint while it is worked with: the sum of times[v] x(v+1) is at
// least atLeast. Rows are not changed once they are made.
type row struct {
	times   []big.Int
	atLeast big.Int
}

func (c *Constraint) row(variables int) *row {
	r := &row{times: make([]big.Int, variables)}
	for _, t := range c.Terms {
		r.times[t.Variable-1].SetInt64(int64(t.Times))
	}
	r.atLeast.SetInt64(int64(c.AtLeast))
	return r
}

// literal is x >= 0, or 1 - x >= 0 of its negation.
func literal(variables, variable int, negated bool) *row {
	r := &row{times: make([]big.Int, variables)}
	r.times[variable-1].SetInt64(1)
	if negated {
		r.times[variable-1].SetInt64(-1)
		r.atLeast.SetInt64(-1)
	}
	return r
}

func (r *row) plus(s *row) *row {
	out := &row{times: make([]big.Int, len(r.times))}
	for v := range out.times {
		out.times[v].Add(&r.times[v], &s.times[v])
	}
	out.atLeast.Add(&r.atLeast, &s.atLeast)
	return out
}

// multiple takes a number above 0.
func (r *row) multiple(n *big.Int) *row {
	out := &row{times: make([]big.Int, len(r.times))}
	for v := range out.times {
		out.times[v].Mul(&r.times[v], n)
	}
	out.atLeast.Mul(&r.atLeast, n)
	return out
}

// degree is what a row asks for as a sum over literals, each counted some times
// above 0: a variable that is counted below 0 stands for its negation.
func (r *row) degree() *big.Int {
	d := new(big.Int).Set(&r.atLeast)
	for v := range r.times {
		if r.times[v].Sign() < 0 {
			d.Sub(d, &r.times[v])
		}
	}
	return d
}

// fromLiterals is a row of some degree, from how often each literal counts.
func (r *row) fromLiterals(degree *big.Int, counts func(times *big.Int)) *row {
	out := &row{times: make([]big.Int, len(r.times))}
	out.atLeast.Set(degree)
	for v := range out.times {
		t := &out.times[v]
		counts(t.Abs(&r.times[v]))
		if r.times[v].Sign() < 0 {
			out.atLeast.Sub(&out.atLeast, t)
			t.Neg(t)
		}
	}
	return out
}

// divided takes a number above 0; what a literal counts and the degree are rounded up.
func (r *row) divided(n *big.Int) *row {
	upward := func(x *big.Int) {
		x.Add(x, n).Sub(x, big.NewInt(1))
		x.Div(x, n) // rounds down for n > 0
	}
	d := r.degree()
	upward(d)
	return r.fromLiterals(d, upward)
}

// saturated counts no literal more often than the degree.
func (r *row) saturated() *row {
	d := r.degree()
	if d.Sign() < 0 {
		d.SetInt64(0)
	}
	return r.fromLiterals(d, func(x *big.Int) {
		if x.Cmp(d) > 0 {
			x.Set(d)
		}
	})
}

// contradicts reports whether all literals together do not come to the degree.
func (r *row) contradicts() bool {
	sum := new(big.Int)
	for v := range r.times {
		sum.Add(sum, new(big.Int).Abs(&r.times[v]))
	}
	return sum.Cmp(r.degree()) < 0
}

// words are those that a row takes.
func (r *row) words() (n int) {
	for v := range r.times {
		n += 1 + r.times[v].BitLen()/64
	}
	return n
}
