package tolerance

import "math"

// sloped is the range of a function over a box of three coordinates together
// with the ranges of its three partial derivatives: forward differentiation in
// interval arithmetic.
type sloped struct {
	v interval
	d [3]interval
}

func constant(x float64) sloped { return sloped{v: point(x)} }

// coordinate is the k-th of the three, over its range.
func coordinate(k int, v interval) sloped {
	s := sloped{v: v}
	s.d[k] = point(1)
	return s
}

func (x sloped) add(y sloped) sloped {
	x.v = x.v.add(y.v)
	for k := range x.d {
		x.d[k] = x.d[k].add(y.d[k])
	}
	return x
}

func (x sloped) sub(y sloped) sloped {
	x.v = x.v.sub(y.v)
	for k := range x.d {
		x.d[k] = x.d[k].sub(y.d[k])
	}
	return x
}

// scale multiplies by a number.
func (x sloped) scale(c float64) sloped {
	x.v = x.v.mul(point(c))
	for k := range x.d {
		x.d[k] = x.d[k].mul(point(c))
	}
	return x
}

func (x sloped) shift(c interval) sloped {
	x.v = x.v.add(c)
	return x
}

func (x sloped) mul(y sloped) sloped {
	out := sloped{v: x.v.mul(y.v)}
	for k := range x.d {
		out.d[k] = x.d[k].mul(y.v).add(x.v.mul(y.d[k]))
	}
	return out
}

// over divides by something surely positive.
func (x sloped) over(y sloped) sloped {
	out := sloped{v: x.v.over(y.v)}
	for k := range x.d {
		out.d[k] = x.d[k].sub(out.v.mul(y.d[k])).over(y.v)
	}
	return out
}

// chain is a function of x with the given range and range of its derivative.
func (x sloped) chain(v, derivative interval) sloped {
	x.v = v
	for k := range x.d {
		x.d[k] = x.d[k].mul(derivative)
	}
	return x
}

func (x sloped) square() sloped { return x.chain(x.v.square(), x.v.mul(point(2))) }

// root has an endless slope where x may be 0.
func (x sloped) root() sloped {
	r := x.v.root()
	if x.d == ([3]interval{}) {
		return sloped{v: r}
	}
	if !(r.lo > 0) {
		return x.chain(r, interval{0, math.Inf(1)}).orWild()
	}
	return x.chain(r, point(0.5).over(r))
}

// orWild replaces slopes that are not numbers by the whole line.
func (x sloped) orWild() sloped {
	for k, d := range x.d {
		if math.IsNaN(d.lo) || math.IsNaN(d.hi) {
			x.d[k] = interval{math.Inf(-1), math.Inf(1)}
		}
	}
	return x
}

func (x sloped) atan() sloped {
	return x.chain(x.v.atan(), point(1).over(x.v.square().add(point(1))))
}

func (x sloped) exp() sloped {
	e := x.v.exp()
	return x.chain(e, e)
}

func (x sloped) cosine() sloped {
	const quarter = math.Pi / 2
	sine := x.v.add(interval{-quarter - slop, -quarter + slop}).cosine()
	return x.chain(x.v.cosine(), interval{-sine.hi, -sine.lo})
}

// usable reports whether all slopes are finite.
func (x sloped) usable() bool {
	for _, d := range x.d {
		if !(d.lo > math.Inf(-1) && d.hi < math.Inf(1)) {
			return false
		}
	}
	return true
}
