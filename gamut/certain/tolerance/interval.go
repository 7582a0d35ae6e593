package tolerance

import (
	"math"

	"fewtubes/gamut/portable"
)

// interval is a closed range of reals; every operation rounds outward.
type interval struct{ lo, hi float64 }

// slop covers the error of the elementary functions of package portable, whose
// tests allow them 2 units in the last place.
const slop = 1e-13

// down and up move a result past the rounding of one operation, which is below
// 2^-53 of it; they cost less than math.Nextafter.
func down(x float64) float64 { return float64(x) - (float64(math.Abs(x)*0x1p-52) + 0x1p-1000) }
func up(x float64) float64   { return float64(x) + (float64(math.Abs(x)*0x1p-52) + 0x1p-1000) }

func point(x float64) interval { return interval{x, x} }

func (a interval) add(b interval) interval {
	switch (interval{}) { // nothing is rounded
	case a:
		return b
	case b:
		return a
	}
	return interval{down(a.lo + b.lo), up(a.hi + b.hi)}
}
func (a interval) sub(b interval) interval { return interval{down(a.lo - b.hi), up(a.hi - b.lo)} }

func (a interval) mul(b interval) interval {
	if a == (interval{}) || b == (interval{}) { // also 0 times endless
		return interval{}
	}
	p, q, r, s := a.lo*b.lo, a.lo*b.hi, a.hi*b.lo, a.hi*b.hi
	return interval{down(min(p, q, r, s)), up(max(p, q, r, s))}
}

// over divides by a range of positive numbers.
func (a interval) over(b interval) interval {
	p, q, r, s := a.lo/b.lo, a.lo/b.hi, a.hi/b.lo, a.hi/b.hi
	return interval{down(min(p, q, r, s)), up(max(p, q, r, s))}
}

func (a interval) square() interval {
	p, q := a.lo*a.lo, a.hi*a.hi
	if a.lo <= 0 && a.hi >= 0 {
		return interval{0, up(max(p, q))}
	}
	return interval{down(min(p, q)), up(max(p, q))}
}

// root is the square root; what lies below 0 is rounding and is dropped.
func (a interval) root() interval {
	return interval{max(0, down(math.Sqrt(max(0, a.lo)))), up(math.Sqrt(max(0, a.hi)))}
}

// exp, atan and cosine trust package portable to slop.
func (a interval) exp() interval {
	return interval{portable.Exp(a.lo) * (1 - slop), portable.Exp(a.hi) * (1 + slop)}
}

func (a interval) atan() interval {
	return interval{portable.Atan(a.lo) - 2*slop, portable.Atan(a.hi) + 2*slop}
}

// cosine takes radians.
func (a interval) cosine() interval {
	if !(a.hi-a.lo < 2*math.Pi) {
		return interval{-1, 1}
	}
	p, q := portable.Cos(a.lo), portable.Cos(a.hi)
	out := interval{min(p, q) - slop, max(p, q) + slop}
	// a peak lies inside where a whole turn does, a trough where a half turn does
	const edge = 1e-9
	if math.Floor((a.hi+edge)/(2*math.Pi)) >= math.Ceil((a.lo-edge)/(2*math.Pi)) {
		out.hi = 1
	}
	if math.Floor((a.hi+edge)/(2*math.Pi)-0.5) >= math.Ceil((a.lo-edge)/(2*math.Pi)-0.5) {
		out.lo = -1
	}
	return out
}
