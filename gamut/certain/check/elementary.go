package check

import "math"

// The elementary functions are worked out from sums, products, quotients and
// square roots alone, and what is left out of a series is bounded: no library is
// trusted for them. The square root is only guessed by one, and held against its
// square.

// pi lies between two neighbouring float64s.
var pi = interval{0x1.921fb54442d18p+1, 0x1.921fb54442d19p+1}

// root is the square root; what lies below 0 is rounding and is dropped.
func (a interval) root() interval {
	low, high := down(down(math.Sqrt(max(0, a.lo)))), up(up(math.Sqrt(max(0, a.hi))))
	if !(low > 0 && up(low*low) <= a.lo) {
		low = 0
	}
	switch {
	case down(high*high) >= a.hi:
	case a.hi <= 1e-280:
		high = 1.1e-140
	default:
		high = math.Inf(1)
	}
	return interval{low, high}
}

// rising is a function that nowhere falls, given on single numbers.
func (a interval) rising(on func(float64) interval) interval {
	if a.lo == a.hi {
		return on(a.lo)
	}
	return interval{on(a.lo).lo, on(a.hi).hi}
}

// fade is e^x for x <= 0.
func (a interval) fade() interval { return a.rising(fadeOf) }

// fadeOf squares e^(x/64) six times. A series 1 + y/k (1 + y/(k+1) (...)) of y from
// -1 to 0 lies within 0 and 1 wherever it begins.
func fadeOf(x float64) interval {
	const lowest = -45
	if !(x <= 0) {
		return interval{0, math.Inf(1)}
	}
	if x < lowest {
		return interval{0, 3e-20}
	}
	y, sum := point(x/64), interval{0, 1}
	for k := 18; k >= 1; k-- {
		sum = point(1).plus(y.times(sum).over(point(float64(k))))
	}
	for range 6 {
		sum = sum.square()
	}
	return sum
}

func (a interval) arctan() interval { return a.rising(arctanOf) }

// arctanOf halves the angle twice, after which the series alternates and falls.
func arctanOf(x float64) interval {
	switch {
	case x < 0:
		return arctanOf(-x).negative()
	case x > 1:
		return pi.over(point(2)).minus(arctanOfSmall(point(1).over(point(x))))
	}
	return arctanOfSmall(point(x))
}

func arctanOfSmall(y interval) interval {
	for range 2 {
		y = y.over(point(1).plus(point(1).plus(y.square()).root()))
	}
	y2, sum := y.square(), interval{0, 1}
	for k := 27; k >= 1; k -= 2 {
		sum = ratio(1, float64(k)).minus(y2.times(sum))
	}
	return point(4).times(y).times(sum)
}

// turned are the sine and the cosine of an angle in radians, known closely and a
// few turns from 0 at most.
func turned(x interval) (sine, cosine interval) {
	quarter := pi.over(point(2))
	n := math.Floor(x.lo/quarter.lo + 0.5)
	r := x.minus(quarter.times(point(n)))
	if !(math.Abs(n) < 100 && r.lo >= -1 && r.hi <= 1) {
		return interval{-1, 1}, interval{-1, 1}
	}
	r2 := r.square()
	s, c := r.times(alternating(r2, &ofSine)), alternating(r2, &ofCosine)
	switch int(n) & 3 {
	case 0:
		return s, c
	case 1:
		return c, s.negative()
	case 2:
		return s.negative(), c.negative()
	}
	return c.negative(), s
}

// alternating is 1 - x w0 (1 - x w1 (...)) for x within 0 and 1; such a series lies
// within 0 and 1 wherever it begins.
func alternating(x interval, w *[9]interval) interval {
	sum := interval{0, 1}
	for i := len(w) - 1; i >= 0; i-- {
		sum = point(1).minus(x.times(sum).times(w[i]))
	}
	return sum
}

// ofSine and ofCosine are 1/(k(k+1)) for k = 2, 4, ... and 1, 3, ...
var ofSine, ofCosine = factors(2), factors(1)

func factors(k float64) (w [9]interval) {
	for i := range w {
		w[i] = ratio(1, k*(k+1))
		k += 2
	}
	return w
}
