package doubt

import "math"

// factorials are 1/i!, enough for e^x where |x| is at most half of ln 2.
var factorials = func() (c [14]float64) {
	f := 1.0
	for i := range c {
		c[i] = 1 / f
		f *= float64(i + 1)
	}
	return c
}()

// exp is e^x to about 1e-15, by the same steps on every processor: 2^k times the
// Taylor series of what is left, at most half of ln 2 from zero. Products are
// rounded before they are added, since some processors would not.
func exp(x float64) float64 {
	x = min(max(x, -700), 700)
	k := math.Floor(float64(x*math.Log2E) + 0.5)
	x -= float64(k * 6.93147180369123816490e-01) // ln 2 in two pieces,
	x -= float64(k * 1.90821492927058770002e-10) // the first exact when multiplied
	sum := 0.0
	for i := len(factorials) - 1; i >= 0; i-- {
		sum = factorials[i] + float64(x*sum)
	}
	return sum * math.Float64frombits(uint64(1023+int64(k))<<52)
}
