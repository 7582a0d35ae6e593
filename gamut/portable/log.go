package portable

import "math"

// Log is the natural logarithm, within 1 ulp; of 0 it is -Inf, below that NaN.
func Log(x float64) float64 {
	switch {
	case math.IsNaN(x) || math.IsInf(x, 1):
		return x
	case x < 0:
		return math.NaN()
	case x == 0:
		return math.Inf(-1)
	}
	high, low := log(x)
	return high + low
}

// log is the logarithm of a positive finite number in two parts, together within
// 2^-58 of it.
func log(x float64) (high, low float64) {
	m, k := math.Frexp(x)
	if m < math.Sqrt2/2 {
		m, k = 2*m, k-1
	}
	// With s = (m-1)/(m+1), log m is 2 (s + s^3/3 + s^5/5 + ...).
	f, d := m-1, 1+m
	dLow := (1 - d) + m
	if m > 1 {
		dLow = (m - d) + 1
	}
	s := f / d
	sLow := (math.FMA(-s, d, f) - float64(s*dLow)) / d
	z := s * s
	n := float64(k)
	exponent, s := float64(n*ln2High), float64(2*s)
	high = exponent + s
	return high, ((exponent - high) + s) + (float64(n*ln2Low) + (float64(2*sLow) + float64(s*z*series(z, artanhSeries[:]))))
}

// Log1p is log(1+x), within 2 ulp; x > -1.
func Log1p(x float64) float64 {
	u := 1 + x
	if !(u > 0) || math.IsInf(u, 1) {
		return Log(u)
	}
	lost := x - (u - 1)
	if x > 1 {
		lost = 1 - (u - x)
	}
	high, low := log(u)
	if high == 0 {
		return x
	}
	return high + (low + lost/u)
}

// Log2 is the logarithm to base 2, within 2 ulp and exact for powers of 2.
func Log2(x float64) float64 {
	m, k := math.Frexp(x)
	if m == 0.5 {
		return float64(k - 1)
	}
	return Log(x) * (1 / math.Ln2)
}

// Decade is the greatest n with 10^n <= x; 0 where x is not positive and finite.
func Decade(x float64) int {
	if !(x > 0) || math.IsInf(x, 1) {
		return 0
	}
	n := int(math.Floor(Log(x) * (1 / math.Ln10)))
	for math.Pow10(n+1) <= x {
		n++
	}
	for math.Pow10(n) > x {
		n--
	}
	return n
}

// Pow is x^y for x >= 0, within 1 ulp where the result lies between 1e-15 and 1e15
// and 10 elsewhere; NaN for x < 0.
func Pow(x, y float64) float64 {
	switch {
	case y == 0 || x == 1:
		return 1
	case math.IsNaN(x) || math.IsNaN(y) || x < 0:
		return math.NaN()
	case x == 0 || math.IsInf(x, 1) || math.IsInf(y, 0):
		if (x > 1) == (y > 0) {
			return math.Inf(1)
		}
		return 0
	}
	high, low := log(x)
	power := y * high
	return exp(power, math.FMA(y, high, -power)+float64(y*low))
}
