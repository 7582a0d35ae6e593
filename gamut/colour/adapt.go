package colour

// IlluminantC is the white of CIE illuminant C for the 2 degree observer
// (ASTM E308), the light of the Munsell renotation.
var IlluminantC = XYZ{98.074, 100, 118.232}

// The cone-like responses of the Bradford transform (Lam 1985), in the linear
// form of ICC.1:2010, annex E.
var (
	bradford = [3][3]float64{
		{0.8951, 0.2664, -0.1614},
		{-0.7502, 1.7135, 0.0367},
		{0.0389, -0.0685, 1.0296},
	}
	bradfordBack = invert(bradford)
)

// Adapt finds the colour that looks under the white to as c does under the
// white from, by the linear Bradford transform (ICC.1:2010, annex E): the three
// responses scale with those of the whites.
func Adapt(c, from, to XYZ) XYZ {
	v := apply(bradford, [3]float64{c.X, c.Y, c.Z})
	f := apply(bradford, [3]float64{from.X, from.Y, from.Z})
	t := apply(bradford, [3]float64{to.X, to.Y, to.Z})
	for i := range v {
		v[i] *= t[i] / f[i]
	}
	out := apply(bradfordBack, v)
	return XYZ{out[0], out[1], out[2]}
}
