package doubt

import "math"

// Covariance is that of the terms, row by row.
type Covariance [Terms]Deviation

// Correlated is the spread of terms with this covariance, which is symmetric and not
// negative definite: what is left of a doubt once something was learnt.
func Correlated(cov *Covariance) (s Spread) {
	rms := func(from, to int) float64 {
		sum := 0.0
		for i := from; i < to; i++ {
			sum += max(cov[i][i], 0)
		}
		return math.Sqrt(sum / float64(to-from))
	}
	s.Strength, s.Scattering = rms(Strength, Strength+1), rms(Scattering, Scattering+1)
	s.KShape, s.SShape = rms(KShape, SShape), rms(SShape, Terms)
	s.together = cov.factor()
	return s
}

// Factor is the lower triangle that makes deviations of as many independent standard normal
// numbers.
func (s Spread) Factor() (l Covariance) {
	if s.together != nil {
		return *s.together
	}
	for i, d := range s.Deviations() {
		l[i][i] = d
	}
	return l
}

// factor is Cholesky's lower one. A term without a variance of its own beside those before it
// moves with them alone.
func (c *Covariance) factor() *Covariance {
	const nothing = 1e-14
	var l Covariance
	for i := range l {
		for j := range i + 1 {
			v := c[i][j]
			for k := range j {
				v -= float64(l[i][k] * l[j][k])
			}
			switch {
			case i == j:
				if v > nothing {
					l[i][i] = math.Sqrt(v)
				}
			case l[j][j] > 0:
				l[i][j] = v / l[j][j]
			}
		}
	}
	return &l
}

// squared is the covariance of deviations made by a factor.
func (c *Covariance) squared() (out Covariance) {
	for i := range c {
		for j := range c {
			for k := range c[i] {
				out[i][j] += float64(c[i][k] * c[j][k])
			}
		}
	}
	return out
}
