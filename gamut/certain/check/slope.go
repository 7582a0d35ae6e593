package check

import "math"

// sloped is the range over a box of a function of L*, a* and b*, with the ranges
// of its partial derivatives.
type sloped struct {
	v interval
	d [3]interval
}

func constant(v interval) sloped { return sloped{v: v} }

// coordinate is the k-th of the three.
func coordinate(k int, v interval) sloped {
	s := sloped{v: v}
	s.d[k] = point(1)
	return s
}

func (x sloped) plus(y sloped) sloped {
	for k := range x.d {
		x.d[k] = x.d[k].plus(y.d[k])
	}
	x.v = x.v.plus(y.v)
	return x
}

func (x sloped) minus(y sloped) sloped { return x.plus(y.scaled(point(-1))) }

func (x sloped) scaled(c interval) sloped { return x.chain(x.v.times(c), c) }

func (x sloped) times(y sloped) sloped {
	out := sloped{v: x.v.times(y.v)}
	for k := range x.d {
		out.d[k] = x.d[k].times(y.v).plus(y.d[k].times(x.v))
	}
	return out
}

// over divides by something above 0.
func (x sloped) over(y sloped) sloped {
	out := sloped{v: x.v.over(y.v)}
	for k := range x.d {
		out.d[k] = x.d[k].minus(out.v.times(y.d[k])).over(y.v)
	}
	return out
}

// chain is a function of x of the given range and range of derivative.
func (x sloped) chain(v, derivative interval) sloped {
	x.v = v
	for k := range x.d {
		if x.d[k] != (interval{}) {
			x.d[k] = x.d[k].times(derivative)
		}
	}
	return x
}

func (x sloped) square() sloped { return x.chain(x.v.square(), x.v.plus(x.v)) }

// root has no slopes where x may be 0.
func (x sloped) root() sloped {
	r := x.v.root()
	return x.chain(r, point(1).over(r.plus(r)))
}

func (x sloped) arctan() sloped {
	return x.chain(x.v.arctan(), point(1).over(point(1).plus(x.v.square())))
}

// usable reports whether all slopes are finite numbers.
func (x sloped) usable() bool {
	for _, d := range x.d {
		if math.IsNaN(d.lo-d.lo) || math.IsNaN(d.hi-d.hi) {
			return false
		}
	}
	return true
}
