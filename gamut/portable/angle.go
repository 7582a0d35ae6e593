package portable

import "math"

// Half of pi in three parts; the first two have 33 bits, so that a number of
// quarter turns times them is exact.
const (
	quarterHigh = 6746518852 / 0x1p32
	quarterMid  = 4484108710 / 0x1p66
	quarterLow  = math.Pi/2 - quarterHigh - quarterMid
)

// mostTurned is the angle in radians beyond which whole turns are taken off first.
const mostTurned = 1e6

// Sin is the sine of an angle in radians, within 1 ulp up to a million radians.
func Sin(x float64) float64 { sin, _ := Sincos(x); return sin }

// Cos is the cosine of an angle in radians, within 1 ulp up to a million radians.
func Cos(x float64) float64 { _, cos := Sincos(x); return cos }

// Sincos is the sine and the cosine of an angle in radians, within 1 ulp up to a
// million radians.
func Sincos(x float64) (sin, cos float64) {
	if !(math.Abs(x) <= mostTurned) {
		x = math.Mod(x, 2*math.Pi)
		if math.IsNaN(x) {
			return x, x
		}
	}
	n := math.RoundToEven(x * (2 / math.Pi))
	r, low := minus(x-float64(n*quarterHigh), float64(n*quarterMid))
	r, low = minus(r, float64(n*quarterLow)-low)

	z := r * r
	half := float64(z / 2)
	most := 1 - half
	sin = r + (float64(r*z*series(z, sinSeries[:])) + float64(low*most))
	cos = most + (((1 - most) - half) + (float64(z*z*series(z, cosSeries[:])) - float64(r*low)))
	switch int(n) & 3 {
	case 1:
		return cos, -sin
	case 2:
		return -sin, -cos
	case 3:
		return -cos, sin
	}
	return sin, cos
}

// minus is a - b and what its rounding lost.
func minus(a, b float64) (d, lost float64) {
	d = a - b
	back := d - a
	return d, (a - (d - back)) - (b + back)
}

// Atan is the arc tangent in radians, within 2 ulp.
func Atan(x float64) float64 { return Atan2(x, 1) }

// Atan2 is the angle in radians of the point (x, y), from -pi to pi, within 2 ulp;
// zeros, infinities and signs as in math.Atan2.
func Atan2(y, x float64) float64 {
	rise, run := math.Abs(y), math.Abs(x)
	if !(rise > 0 && run > 0) || math.IsInf(rise, 1) || math.IsInf(run, 1) {
		return math.Atan2(y, x) // an eighth of turns, or NaN
	}
	steep := rise > run
	if steep {
		rise, run = run, rise
	}
	switch {
	case run > 0x1p1000:
		rise, run = rise*0x1p-100, run*0x1p-100
	case run < 0x1p-900:
		rise, run = rise*0x1p100, run*0x1p100
	}
	angle := lean(rise, run)
	if steep {
		angle = (quarterTurn - angle) + quarterRest
	}
	if math.Signbit(x) {
		angle = (2*quarterTurn - angle) + 2*quarterRest
	}
	return math.Copysign(angle, y)
}

// A quarter of a turn in two parts.
const (
	quarterTurn = 0x1.921fb54442d18p0
	quarterRest = math.Pi/2 - quarterTurn
)

// lean is the angle of a slope of at most 1: that of the nearest eighth, and of
// what is left of it, atan(a) - atan(c) being atan((a-c)/(1+ac)).
func lean(rise, run float64) float64 {
	i := int(float64(8*(rise/run)) + 0.5)
	c := float64(i) / 8
	t := math.FMA(-c, run, rise) / math.FMA(c, rise, run)
	z := t * t
	return eighths[i].angle + (eighths[i].rest + (t + float64(t*z*series(z, arctanSeries[:]))))
}

// eighths are the arc tangents of 0, 1/8, 2/8, ... 1 in two parts.
var eighths = [...]struct{ angle, rest float64 }{
	{0, 0},
	{0x1.fd5ba9aac2f6ep-4, -3.1253241424539383e-18},
	{0x1.f5b75f92c80ddp-3, 1.0698755618734451e-17},
	{0x1.6f61941e4def1p-2, -2.4623815582638635e-17},
	{0x1.dac670561bb4fp-2, 2.2698777452961687e-17},
	{0x1.1e00babdefeb4p-1, -5.4556305485916264e-18},
	{0x1.4978fa3269ee1p-1, 1.5834785051444286e-17},
	{0x1.700a7c5784634p-1, -2.1478388444456983e-17},
	{0x1.921fb54442d18p-1, 3.061616997868383e-17},
}
