package check

import (
	"math"

	"fewtubes/gamut/colour"
)

// box is a box of CIELAB colours: ranges of L*, a*, b*.
type box [3]interval

// difference bounds the square of CIEDE2000 from one target, by equations 2 to 22
// of Sharma, Wu, Dalal, Color Res. Appl. 30, 2005, in outward rounding. With D the
// angle between two (a', b') vectors, C1 and C2 their lengths and cross and dot
// their products,
//
//	dH' = 2 sqrt(C1 C2) sin(D/2) = cross / sqrt((C1 C2 + dot)/2)
//	mean hue = h1 + D/2, tan(D/2) = cross / (C1 C2 + dot)
//
// which needs no case for hues on the two sides of 0. Where the hues may be
// opposite, only a lower bound is given.
type difference struct {
	target colour.Lab
	chroma interval // of the target, from a* and b*
}

func differenceFrom(t colour.Lab) *difference {
	return &difference{t, point(t.A).square().plus(point(t.B).square()).root()}
}

// squared is the range of the square over a box, with slopes where it has any.
func (d *difference) squared(x box) sloped {
	L, a, b := coordinate(0, x[0]), coordinate(1, x[1]), coordinate(2, x[2])
	tL, ta, tb := fixed(d.target.L), fixed(d.target.A), fixed(d.target.B)
	one := fixed(1)

	mean := constant(d.chroma).plus(length(a, b)).scaled(ratio(1, 2))
	stretch := constant(ratio(3, 2)).minus(share(mean).scaled(ratio(1, 2))) // 1 + G
	a1, a2 := stretch.times(ta), stretch.times(a)
	c1, c2 := length(a1, tb), length(a2, b)
	mean = c1.plus(c2).scaled(ratio(1, 2))

	middle := L.plus(tL).scaled(ratio(1, 2)).minus(fixed(50)).square()
	sL := one.plus(middle.scaled(ratio(15, 1000)).over(middle.plus(fixed(20)).root()))
	sC := one.plus(mean.scaled(ratio(45, 1000)))
	light, chroma := L.minus(tL).over(sL), c2.minus(c1).over(sC)
	sum := light.square().plus(chroma.square())
	if d.target.A == 0 && d.target.B == 0 {
		return sum // a neutral has no hue to differ from
	}

	cross := stretch.times(ta.times(b).minus(a.times(tb)))
	dot := a1.times(a2).plus(tb.times(b))
	both := c1.times(c2).plus(dot)
	if !(both.v.lo > 0) {
		apart := c1.v.times(c2.v).minus(dot.v)
		return sloped{v: interval{anyHue(light.v, chroma.v, apart, mean.v), math.Inf(1)}, d: [3]interval{all, all, all}}
	}
	hue := d.hue(stretch).plus(cross.over(both).arctan())
	sH := one.plus(mean.times(weight(hue)).scaled(ratio(15, 1000)))
	turn := cross.over(both.scaled(ratio(1, 2)).root()).over(sH)
	rT := share(mean).times(rotation(hue)).scaled(point(-2))
	sum = sum.plus(turn.square()).plus(rT.times(chroma).times(turn))
	floor := light.v.square().plus(point(floorOf(chroma.v.square().lo, turn.v.square().lo, rT.v)))
	sum.v.lo = max(sum.v.lo, floor.lo)
	return sum
}

// all is every number.
var all = interval{math.Inf(-1), math.Inf(1)}

func fixed(x float64) sloped { return constant(point(x)) }

func length(a, b sloped) sloped { return a.square().plus(b.square()).root() }

// anyHue is a lower bound where the hue is open: dH'^2 = 2 (C1 C2 - dot), T within
// 1 - 0.93 and 1 + 0.93, RT within -2 sin 60 degrees times the share of chroma and 0.
func anyHue(light, chroma, apart, mean interval) float64 {
	sH := point(1).plus(mean.times(ratio(15, 1000)).times(ratio(193, 100)))
	turn := point(2 * max(0, apart.lo)).over(sH.square())
	rT := share(constant(mean)).v.times(point(3).root()).negative()
	return light.square().plus(point(floorOf(chroma.square().lo, turn.lo, rT))).lo
}

// floorOf is below c^2 + h^2 + RT c h for RT within -2 and 0, from c^2 and h^2: since
// 2 |c h| <= c^2 + h^2, the form is nowhere below 1 - |RT|/2 of that sum, and nowhere
// below 1 - RT^2/4 of either square.
func floorOf(c2, h2 float64, rT interval) float64 {
	least := point(max(-2, rT.lo))
	ofSum := point(1).plus(least.over(point(2))).times(point(c2).plus(point(h2)))
	ofOne := point(1).minus(least.square().over(point(4))).times(point(max(c2, h2)))
	return max(0, ofSum.lo, ofOne.lo)
}

// hue is the target's, from a' and b*, in radians; it turns with 1 + G.
func (d *difference) hue(stretch sloped) sloped {
	t := d.target
	if t.A == 0 {
		right := pi.over(point(2))
		if t.B < 0 {
			right = right.negative()
		}
		return constant(right)
	}
	a := stretch.scaled(point(math.Abs(t.A)))
	h := fixed(t.B).over(a).arctan()
	if t.A < 0 {
		return constant(pi).minus(h)
	}
	return h
}

// share is sqrt(C^7/(C^7+25^7)), which rises with C >= 0. Its slope is 3.5/C times
// s(1-s^2), at most 0.14: s <= (C/25)^3.5 up to C = 25, and s(1-s^2) < 0.39.
func share(c sloped) sloped {
	v := interval{max(0, c.v.lo), max(0, c.v.hi)}
	s := v.rising(shareOf)
	slope := interval{0, 0.1401}
	if v.lo > 1 {
		slope = ratio(7, 2).times(s).times(point(1).minus(s.square())).over(v)
	}
	return c.chain(s, slope)
}

func shareOf(c float64) interval {
	const power = 25. * 25 * 25 * 25 * 25 * 25 * 25
	c2 := point(c).square()
	c7 := c2.times(c2).times(c2).times(point(c))
	return c7.over(c7.plus(point(power))).root()
}

// weight is T (eq. 15) at a mean hue in radians: from the middle of its range, with
// the bound 0.17 + 4 (0.24) + 9 (0.32) + 16 (0.20) = 7.21 of its second derivative.
func weight(hue sloped) sloped {
	middle := hue.v.lo + float64((hue.v.hi-hue.v.lo)/2)
	if !(hue.v.hi-hue.v.lo < 7) {
		return sloped{v: interval{0.07 - 1e-9, 1.93 + 1e-9}, d: [3]interval{all, all, all}}
	}
	off := hue.v.minus(point(middle))
	t, slope := fixed(1).v, interval{}
	for _, wave := range waves {
		s, c := turned(point(float64(wave.times * middle)).plus(wave.shift))
		t = t.plus(wave.size.times(c))
		slope = slope.minus(wave.size.times(s).times(point(wave.times)))
	}
	slope = slope.plus(off.times(ratio(721, 100)))
	v := t.plus(off.times(slope))
	return hue.chain(interval{max(v.lo, 0.07-1e-9), min(v.hi, 1.93+1e-9)}, slope)
}

// waves of T: size cos(times h + shift).
var waves = [4]struct {
	times       float64
	shift, size interval
}{
	{1, degrees(-30), ratio(-17, 100)},
	{2, interval{}, ratio(24, 100)},
	{3, degrees(6), ratio(32, 100)},
	{4, degrees(-63), ratio(-20, 100)},
}

// degrees are an angle in radians.
func degrees(x float64) interval { return pi.times(ratio(x, 180)) }

// rotation is sin(2 dTheta) with dTheta = 30 degrees times exp(-((h - 275)/25)^2)
// (eq. 19), h within 0 and 360 degrees. The exponential jumps at 0, by less than
// 2e-5: from 357 to 57 degrees it is taken for a constant that may be anything up to
// 3e-5, so that the slopes of the rest hold across the jump.
func rotation(hue sloped) sloped {
	if hue.v.lo < 0 {
		hue = hue.plus(constant(pi.plus(pi)))
	}
	at := hue.v.times(point(180)).over(pi)
	bell := sloped{v: interval{0, 1}, d: [3]interval{all, all, all}}
	switch {
	case at.lo >= 0 && at.hi <= 57, at.lo >= 357 && at.hi <= 360+57:
		bell = constant(interval{0, 3e-5})
	case at.lo >= 0 && at.hi < 360:
		x := hue.minus(constant(degrees(275))).scaled(point(1).over(degrees(25))).square()
		e := x.v.negative().fade()
		bell = x.chain(e, e.negative())
	}
	angle := bell.scaled(degrees(60))
	low, most := turned(point(max(0, angle.v.lo)))
	high, least := turned(point(angle.v.hi))
	return angle.chain(interval{low.lo, high.hi}, interval{least.lo, most.hi})
}
