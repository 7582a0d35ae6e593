package film

import (
	"math"

	"fewtubes/gamut/portable"
)

// layer is the internal reflectance of one film in one band with its slopes
// against absorption, scattering and the logarithm of thickness.
type layer struct{ r, dK, dS, dLogX float64 }

// opaqueLayer differentiates Infinite(k/s): dR/dq = -R / sqrt(q^2 + 2q).
func opaqueLayer(k, s float64) layer {
	q := k / s
	b := math.Sqrt(q * (q + 2))
	r := 1 / (1 + q + b)
	slope := -r / b
	return layer{r: r, dK: slope / s, dS: -slope * q / s}
}

// overLayer differentiates Over(k, s, x, rg) for s > 0, k > 0, x > 0, through
// q = k/s and t = s x, with c = b coth(b t) and b^2 = q^2 + 2q.
func overLayer(k, s, x, rg float64) layer {
	q, t := k/s, s*x
	a := 1 + q
	b := math.Sqrt(q * (q + 2))
	z := b * t
	if z > 40 { // coth is 1 to the last digit: the backing is out of sight
		return opaqueLayer(k, s)
	}
	c, cq, ct := 1/t, 2*a*t/3, -1/(t*t)
	if z > 1e-4 {
		sinh, coth := portable.Sinh(z), 1/portable.Tanh(z)
		c = b * coth
		cq = (coth - z/(sinh*sinh)) * a / b
		ct = -b * b / (sinh * sinh)
	}
	n, d := 1-float64(rg*(a-c)), a-rg+c
	ra, rc := (float64(-rg*d)-n)/(d*d), (float64(rg*d)-n)/(d*d)
	rq, rt := ra+float64(rc*cq), rc*ct
	return layer{r: n / d, dK: rq / s, dS: float64(rt*x) - rq*q/s, dLogX: rt * t}
}

// slope is the derivative of Seen at internal reflectance r.
func (s Surface) slope(r float64) float64 {
	d := 1 - float64(s.K2*r)
	return (1 - s.K1) * (1 - s.K2) / (d * d)
}
