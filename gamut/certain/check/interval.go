package check

import "math"

// interval holds a real between two float64s.
type interval struct{ lo, hi float64 }

// down and up move a result past the rounding of one operation, which is below
// 2^-53 of it; what is not finite becomes no number, of which nothing is proved.
func down(x float64) float64 { return float64(x) - (float64(math.Abs(x)*0x1p-52) + 0x1p-1000) }
func up(x float64) float64   { return float64(x) + (float64(math.Abs(x)*0x1p-52) + 0x1p-1000) }

func (interval) of(x float64) interval       { return interval{x, x} }
func (a interval) plus(b interval) interval  { return interval{down(a.lo + b.lo), up(a.hi + b.hi)} }
func (a interval) minus(b interval) interval { return interval{down(a.lo - b.hi), up(a.hi - b.lo)} }

func (a interval) times(b interval) interval {
	if a.lo >= 0 && b.lo >= 0 {
		return interval{down(a.lo * b.lo), up(a.hi * b.hi)}
	}
	p, q, r, s := a.lo*b.lo, a.lo*b.hi, a.hi*b.lo, a.hi*b.hi
	return interval{down(min(p, q, r, s)), up(max(p, q, r, s))}
}

func (a interval) over(b interval) interval {
	if !(b.lo > 0) {
		return interval{math.Inf(-1), math.Inf(1)}
	}
	if a.lo >= 0 {
		return interval{down(a.lo / b.hi), up(a.hi / b.lo)}
	}
	p, q, r, s := a.lo/b.lo, a.lo/b.hi, a.hi/b.lo, a.hi/b.hi
	return interval{down(min(p, q, r, s)), up(max(p, q, r, s))}
}

func point(x float64) interval { return interval{x, x} }

// ratio is a quotient of two whole numbers.
func ratio(a, b float64) interval { return point(a).over(point(b)) }

func (a interval) negative() interval { return interval{-a.hi, -a.lo} }

func (a interval) square() interval {
	p, q := a.lo*a.lo, a.hi*a.hi
	if a.lo <= 0 && a.hi >= 0 {
		return interval{0, up(max(p, q))}
	}
	return interval{down(min(p, q)), up(max(p, q))}
}

// hull holds both.
func hull(a, b interval) interval { return interval{min(a.lo, b.lo), max(a.hi, b.hi)} }
