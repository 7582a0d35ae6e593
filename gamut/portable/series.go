package portable

// The coefficients of the series, the term of the lowest power first.
var (
	// (e^x - 1 - x) / x^2
	expSeries = [...]float64{1. / 2, 1. / 6, 1. / 24, 1. / 120, 1. / 720, 1. / 5040, 1. / 40320, 1. / 362880, 1. / 3628800, 1. / 39916800, 1. / 479001600, 1. / 6227020800}
	// (artanh x - x) / x^3, by x^2
	artanhSeries = [...]float64{1. / 3, 1. / 5, 1. / 7, 1. / 9, 1. / 11, 1. / 13, 1. / 15, 1. / 17, 1. / 19, 1. / 21, 1. / 23}
	// (sin x - x) / x^3, by x^2
	sinSeries = [...]float64{-1. / 6, 1. / 120, -1. / 5040, 1. / 362880, -1. / 39916800, 1. / 6227020800, -1. / 1307674368000, 1. / 355687428096000}
	// (cos x - 1 + x^2/2) / x^4, by x^2
	cosSeries = [...]float64{1. / 24, -1. / 720, 1. / 40320, -1. / 3628800, 1. / 479001600, -1. / 87178291200, 1. / 20922789888000}
	// (arctan x - x) / x^3, by x^2
	arctanSeries = [...]float64{-1. / 3, 1. / 5, -1. / 7, 1. / 9, -1. / 11, 1. / 13}
)

// series sums coefficients times powers of x, from the highest down: those of even
// and of odd powers apart, which a processor does at the same time.
func series(x float64, coefficients []float64) float64 {
	square := float64(x * x)
	var even, odd float64
	i := len(coefficients) - 1
	if i%2 == 0 {
		even = coefficients[i]
		i--
	}
	for ; i > 0; i -= 2 {
		odd = coefficients[i] + float64(square*odd)
		even = coefficients[i-1] + float64(square*even)
	}
	return even + float64(x*odd)
}
