package colour

import (
	"math"

	"fewtubes/gamut/portable"
)

// DE2000 is the CIEDE2000 colour difference with unit parametric factors
// (Sharma, Wu, Dalal, Color Res. Appl. 30:21-30, 2005, eqs. 2-22). It is
// symmetric, also for exactly opposite hues, where the mean hue is taken as
// half the sum when that sum is below 360 degrees (eq. 14).
func DE2000(p, q Lab) float64 {
	l, c, h, rT := terms(p, q)
	// The rotation term can make the form dip below zero by rounding.
	return math.Sqrt(max(0, float64(l*l)+float64(c*c)+float64(h*h)+float64(rT*c*h)))
}

// terms are the signed weighted differences q - p in lightness, chroma and hue
// (eq. 22: dL'/SL, dC'/SC, dH'/SH) and the rotation term RT that joins the last two.
func terms(p, q Lab) (l, c, h, rT float64) {
	c1, c2 := portable.Hypot(p.A, p.B), portable.Hypot(q.A, q.B)
	g := float64(0.5 * (1 - chromaRatio((c1+c2)/2)))
	a1, a2 := (1+g)*p.A, (1+g)*q.A
	c1, c2 = portable.Hypot(a1, p.B), portable.Hypot(a2, q.B)

	dL, dC := q.L-p.L, c2-c1
	h1, h2 := hueDegrees(a1, p.B), hueDegrees(a2, q.B)
	dh, mean := h2-h1, h1+h2
	switch {
	case c1 == 0 || c2 == 0:
		dh = 0
	case opposite(a1, p.B, a2, q.B, h1, h2):
		dh = math.Copysign(180, dh)
		mean /= 2
	case math.Abs(dh) <= 180:
		mean /= 2
	default:
		dh -= math.Copysign(360, dh)
		if mean < 360 {
			mean += 360
		} else {
			mean -= 360
		}
		mean /= 2
	}
	const deg = math.Pi / 180
	dH := 2 * math.Sqrt(c1*c2) * portable.Sin(dh/2*deg)

	L, C := float64((p.L+q.L)/2), (c1+c2)/2
	t := 1 - float64(0.17*portable.Cos((mean-30)*deg)) + float64(0.24*portable.Cos(2*mean*deg)) +
		float64(0.32*portable.Cos((float64(3*mean)+6)*deg)) - float64(0.20*portable.Cos((float64(4*mean)-63)*deg))
	l50 := float64((L - 50) * (L - 50))
	sL := 1 + 0.015*l50/math.Sqrt(20+l50)
	sC := 1 + float64(0.045*C)
	sH := 1 + float64(0.015*C*t)
	bell := (mean - 275) / 25
	rT = -2 * chromaRatio(C) * portable.Sin(60*portable.Exp(-bell*bell)*deg)
	return dL / sL, dC / sC, dH / sH, rT
}

// chromaRatio is sqrt(C^7 / (C^7 + 25^7)).
func chromaRatio(c float64) float64 {
	const c25 = 25. * 25 * 25 * 25 * 25 * 25 * 25
	c2 := c * c
	c7 := float64(c2 * c2 * c2 * c)
	return math.Sqrt(c7 / (c7 + c25))
}

// opposite decides the tie of eq. 14 exactly: the angles alone would decide it
// by the rounding of atan2.
func opposite(a1, b1, a2, b2, h1, h2 float64) bool {
	return a1*b2 == a2*b1 && math.Abs(math.Abs(h1-h2)-180) < 1
}
