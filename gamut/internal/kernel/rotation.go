package kernel

import (
	"math"

	"fewtubes/gamut/portable"
)

// rotation is RT of CIEDE2000 (Sharma, Wu, Dalal 2005, eqs. 16-19), to 1e-7, and
// its derivatives by mean chroma and by mean hue (radians), of the mean chroma and
// the sine and cosine of the mean hue. It is of account among the blues alone.
func rotation(chroma, sin, cos float64) (rt, byChroma, byMean float64) {
	away := float64(cos*cos275) + float64(sin*sin275)
	if !(away >= farFromBlue) || sin >= 0 && cos > 0 { // hues do not go on from 360 to 0 here
		return 0, 0, 0
	}
	u := (float64(sin*cos275) - float64(cos*sin275)) / (1 + away)
	x := (u + blueSpan) / blueStep
	i := min(int(x), blueSteps-1)
	turn, slope := blueTurns[i].at(x - float64(i))
	ratio, ratioSlope := chromaRatio(chroma)
	return -2 * ratio * turn, -2 * ratioSlope * turn, -ratio * slope / blueStep * (1 + float64(u*u))
}

var sin275, cos275 = portable.Sincos(275 * math.Pi / 180)

// farFromBlue is the cosine of 114 degrees: so far from the hue of 275 degrees the
// rotation is less than 1e-8.
const farFromBlue = -0.4067

// How far the chroma vectors turn, sin(2 theta), is a bell of the mean hue. It is
// kept in cubic pieces over the tangent of half the angle to 275 degrees, which
// spares an arc tangent, an exponential and a sine.
const (
	blueSpan  = 1.5400 // the tangent of half of 114 degrees, and a little
	blueSteps = 512
	blueStep  = 2 * blueSpan / blueSteps
)

var blueTurns = func() (pieces [blueSteps]cubic) {
	for i := range pieces {
		u := float64(blueStep*float64(i)) - blueSpan
		y0, d0 := blueTurn(u)
		y1, d1 := blueTurn(u + blueStep)
		pieces[i] = hermite(y0, float64(d0*blueStep), y1, float64(d1*blueStep))
	}
	return pieces
}()

// blueTurn is sin(2 theta) and its derivative at the tangent of half an angle.
func blueTurn(u float64) (y, slope float64) {
	const deg = math.Pi / 180
	bell := 2 * portable.Atan(u) / (25 * deg)
	theta := 60 * deg * portable.Exp(-bell*bell)
	sin, cos := portable.Sincos(theta)
	return sin, -cos * theta * 4 * bell / (25 * deg) / (1 + float64(u*u))
}

// cubic is a polynomial over 0..1, the constant first.
type cubic [4]float64

// hermite has the values and slopes given at both ends.
func hermite(y0, d0, y1, d1 float64) cubic {
	return cubic{y0, d0, float64(3*(y1-y0)) - float64(2*d0) - d1, float64(2*(y0-y1)) + d0 + d1}
}

func (c *cubic) at(x float64) (y, slope float64) {
	return c[0] + float64(x*(c[1]+float64(x*(c[2]+float64(x*c[3]))))), c[1] + float64(x*(float64(2*c[2])+float64(x*(3*c[3]))))
}
