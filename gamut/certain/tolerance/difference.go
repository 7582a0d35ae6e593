package tolerance

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// box is a box of CIELAB colours: ranges of L, a, b.
type box [3]interval

// squared is the square of CIEDE2000 to the colours of the box (eqs. 2-22 of
// Sharma, Wu, Dalal, Color Res. Appl. 30, 2005). The hue difference is taken
// from the cross and dot products of the two (a', b') vectors, which needs no
// angles: 2 sqrt(C1 C2) sin(dh/2) = cross / sqrt((C1 C2 + dot)/2). Where the
// hues may lie further apart than a right angle only a bound is given.
func (x box) squared(t colour.Lab) sloped {
	ta, tb := constant(t.A), constant(t.B)
	l, a, b := coordinate(0, x[0]), coordinate(1, x[1]), coordinate(2, x[2])
	c1, c2 := length(ta, tb), length(a, b)
	stretch := constant(1.5).sub(chromaRatio(c1.add(c2).scale(0.5)).scale(0.5))
	a1, a2 := stretch.mul(ta), stretch.mul(a)
	c1, c2 = length(a1, tb), length(a2, b)
	mean := c1.add(c2).scale(0.5)

	l50 := l.add(constant(t.L)).scale(0.5).sub(constant(50)).square()
	sL := l50.scale(0.015).over(l50.add(constant(20)).root()).add(constant(1))
	sC := mean.scale(0.045).add(constant(1))
	dL, dC := l.sub(constant(t.L)).over(sL), c2.sub(c1).over(sC)

	cross := stretch.mul(ta.mul(b).sub(a.mul(tb)))
	dot := a1.mul(a2).add(tb.mul(b))
	if t.A == 0 && t.B == 0 { // a neutral has no hue to differ from
		return dL.square().add(dC.square())
	}
	if !(dot.v.lo > 0) {
		return farApart(dL.v, dC.v, c1.v.mul(c2.v).sub(dot.v), mean)
	}
	dH := cross.over(c1.mul(c2).add(dot).scale(0.5).root())
	hue := cross.over(dot).atan().scale(0.5).add(angle(t, stretch))
	tt, rT := hueTerms(hue, mean)
	dH = dH.over(mean.mul(tt).scale(0.015).add(constant(1)))
	sum := dL.square().add(dC.square()).add(dH.square()).add(rT.mul(dC).mul(dH))
	sum.v.lo = max(sum.v.lo, dL.v.square().add(point(leastPair(dC.v.square(), dH.v.square(), rT.v))).lo)
	return sum
}

// farApart bounds the form where the hue is open: dH'^2 = 2 (C1 C2 - dot).
func farApart(dL, dC, apart interval, mean sloped) sloped {
	low, high := point(1).add(mean.v.mul(point(0.015*0.07))), point(1).add(mean.v.mul(point(0.015*1.93)))
	dH2 := point(2).mul(interval{max(0, apart.lo), max(0, apart.hi)}).over(interval{low.lo, high.hi}.square())
	size := dH2.root().hi
	rT := chromaRatio(mean).v.mul(interval{-math.Sqrt(3) - slop, 0})
	form := dC.square().add(dH2).add(rT.mul(dC).mul(interval{-size, size}))
	least := max(form.lo, leastPair(dC.square(), dH2, rT))
	wild := interval{math.Inf(-1), math.Inf(1)}
	return sloped{interval{dL.square().add(point(least)).lo, math.Inf(1)}, [3]interval{wild, wild, wild}}
}

// leastPair is below c^2 + h^2 + RT c h for any signs: the form is never below
// (1 - RT^2/4) of either square.
func leastPair(c2, h2, rT interval) float64 {
	return max(0, down(down(1-up(up(rT.lo*rT.lo)/4))*max(c2.lo, h2.lo)))
}

func length(a, b sloped) sloped { return a.square().add(b.square()).root() }

// angle is the hue h1' of the target in radians; it turns with the stretch of a.
func angle(t colour.Lab, stretch sloped) sloped {
	p, q := portable.Atan2(t.B, stretch.v.lo*t.A), portable.Atan2(t.B, stretch.v.hi*t.A)
	a := stretch.scale(t.A)
	turn := point(-t.B).over(a.v.square().add(point(t.B).square()))
	return a.chain(interval{min(p, q) - 4*slop, max(p, q) + 4*slop}, turn)
}

const degree = math.Pi / 180

// degrees is an angle in radians.
func degrees(x float64) interval { return interval{float64(x*degree) - slop, float64(x*degree) + slop} }

// hueTerms are T and RT (eqs. 15-21) at a mean hue in radians.
func hueTerms(hue, mean sloped) (t, rT sloped) {
	wave := func(k, shift, size float64) sloped { return hue.scale(k).shift(degrees(shift)).cosine().scale(size) }
	t = constant(1).add(wave(1, -30, -0.17)).add(wave(2, 0, 0.24)).add(wave(3, 6, 0.32)).add(wave(4, -63, -0.20))
	// sin(2 dTheta), dTheta = 30 bell degrees, as the cosine of the complement
	turned := bell(hue).scale(-60 * degree).shift(degrees(90)).cosine()
	return t, chromaRatio(mean).mul(turned).scale(-2)
}

// bell is exp(-((h - 275)/25)^2) of eq. 19, h in degrees within one turn. It
// jumps at 0, by less than 2e-5: from 357 to 57 degrees it is taken for a constant
// that may be anything up to 3e-5, so that slopes may be used across the jump.
func bell(hue sloped) sloped {
	const flat = 3e-5
	if hue.v.lo < 0 {
		hue = hue.shift(degrees(360))
	}
	low, high := hue.v.lo/degree, hue.v.hi/degree
	switch {
	case low >= 0 && high <= 57, low >= 357 && high <= 360+57:
		return sloped{v: interval{0, flat}}
	case low >= 0 && high <= 359:
		return hue.shift(degrees(-275)).over(sloped{v: degrees(25)}).square().scale(-1).exp()
	}
	wild := interval{math.Inf(-1), math.Inf(1)}
	return sloped{interval{0, 1}, [3]interval{wild, wild, wild}}
}

// chromaRatio is sqrt(C^7/(C^7+25^7)), which grows with C >= 0. Its slope is
// 3.5 ratio (1 - ratio^2) / C, which is below 3.5 C^2.5 / 25^3.5 as well.
func chromaRatio(c sloped) sloped {
	const c25 = 25. * 25 * 25 * 25 * 25 * 25 * 25
	v := interval{max(0, c.v.lo), max(0, c.v.hi)}
	c2 := v.square()
	c7 := c2.mul(c2).mul(c2).mul(v)
	ratio := point(1).sub(point(c25).over(c7.add(point(c25)))).root()
	slope := interval{0, math.Inf(1)}
	if v.lo > 1 {
		slope = point(3.5).mul(ratio).mul(point(1).sub(ratio.square())).over(v)
	} else if v.hi <= 25 {
		slope.hi = 3.5 / 25 // at most 3.5 (C/25)^2.5 / 25
	}
	return c.chain(ratio, slope).orWild()
}
