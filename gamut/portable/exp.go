package portable

import "math"

// ln 2 in two parts; the first has 32 bits, so that an exponent times it is exact.
const (
	ln2High = 2977044471 / 0x1p32
	ln2Low  = math.Ln2 - ln2High
)

// Exp is e^x, within 1 ulp.
func Exp(x float64) float64 { return exp(x, 0) }

// exp is e^(x+tail), tail being little against x.
func exp(x, tail float64) float64 {
	switch {
	case math.IsNaN(x):
		return x
	case x > 710:
		return math.Inf(1)
	case x < -746:
		return 0
	}
	k, y := reducedExp(x, tail)
	return scaled(1+y, k)
}

// reducedExp is k and e^r - 1, r being x + tail - k ln 2 and at most ln(2)/2 in size.
func reducedExp(x, tail float64) (k int, y float64) {
	n := math.RoundToEven(x * (1 / math.Ln2))
	high, low := x-float64(n*ln2High), float64(n*ln2Low)-tail
	r := high - low
	rest := (high - r) - low
	return int(n), r + (rest + float64(r*r*series(r, expSeries[:])))
}

// scaled is y 2^k.
func scaled(y float64, k int) float64 {
	if k < -1021 || k > 1022 {
		return math.Ldexp(y, k)
	}
	return y * math.Float64frombits(uint64(k+1023)<<52)
}

// Expm1 is e^x - 1, within 2 ulp.
func Expm1(x float64) float64 {
	if math.IsNaN(x) || x > 40 || x < -40 {
		return Exp(x) - 1
	}
	k, y := reducedExp(x, 0)
	if k == 0 {
		return y
	}
	power := scaled(1, k)
	return (power - 1) + float64(power*y)
}

// Sinh is the hyperbolic sine, within 3 ulp.
func Sinh(x float64) float64 {
	size := math.Abs(x)
	if size > 40 {
		half := Exp(size / 2)
		return math.Copysign(half/2*half, x)
	}
	e := Expm1(size)
	return math.Copysign((e+e/(e+1))/2, x)
}

// Tanh is the hyperbolic tangent, within 3 ulp.
func Tanh(x float64) float64 {
	if x > 20 || x < -20 {
		return math.Copysign(1, x)
	}
	e := Expm1(2 * math.Abs(x))
	return math.Copysign(e/(e+2), x)
}
