package colour

import (
	"math"

	"fewtubes/gamut/portable"
)

// SRGB is a coded sRGB colour (IEC 61966-2-1), 0..1 per channel inside the gamut.
type SRGB struct{ R, G, B float64 }

// Linear light to XYZ (Y 0..1) and back, IEC 61966-2-1 Amendment 1, and the
// white those primaries sum to.
var (
	srgbToXYZ = [3][3]float64{
		{0.4124, 0.3576, 0.1805},
		{0.2126, 0.7152, 0.0722},
		{0.0193, 0.1192, 0.9505},
	}
	xyzToSRGB = invert(srgbToXYZ)
	srgbWhite = XYZ{95.05, 100, 108.90}
)

// Lab converts a coded colour to CIELAB against the sRGB white, so that equal
// channels are exactly neutral.
func (c SRGB) Lab() Lab {
	l := apply(srgbToXYZ, [3]float64{decode(c.R), decode(c.G), decode(c.B)})
	return XYZ{100 * l[0], 100 * l[1], 100 * l[2]}.Lab(srgbWhite)
}

// SRGB converts to the coded colour; channels leave 0..1 where the colour is
// outside the sRGB gamut (see Displayable).
func (c Lab) SRGB() SRGB {
	x := c.XYZ(srgbWhite)
	l := apply(xyzToSRGB, [3]float64{x.X / 100, x.Y / 100, x.Z / 100})
	return SRGB{encode(l[0]), encode(l[1]), encode(l[2])}
}

// Displayable reports whether a screen of the sRGB gamut can show the colour,
// to half a step of 8 bits.
func (c SRGB) Displayable() bool {
	const half = 0.5 / 255
	for _, v := range [3]float64{c.R, c.G, c.B} {
		if !(v >= -half && v <= 1+half) {
			return false
		}
	}
	return true
}

// RGB8 rounds to 8 bits per channel, clipping what a screen cannot show.
func (c SRGB) RGB8() [3]uint8 {
	q := func(v float64) uint8 { return uint8(math.Round(255 * min(max(v, 0), 1))) }
	return [3]uint8{q(c.R), q(c.G), q(c.B)}
}

func decode(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return portable.Pow((v+0.055)/1.055, 2.4)
}

func encode(v float64) float64 {
	if v <= 0.0031308 {
		return 12.92 * v
	}
	return float64(1.055*portable.Pow(v, 1/2.4)) - 0.055
}

func apply(m [3][3]float64, v [3]float64) (out [3]float64) {
	for i := range m {
		for j := range v {
			out[i] += float64(m[i][j] * v[j])
		}
	}
	return out
}

// invert is the inverse of a 3x3 matrix by cofactors.
func invert(m [3][3]float64) (out [3][3]float64) {
	cof := func(i, j int) float64 {
		a, b := (i+1)%3, (i+2)%3
		c, d := (j+1)%3, (j+2)%3
		return float64(m[a][c]*m[b][d]) - float64(m[a][d]*m[b][c])
	}
	det := float64(m[0][0]*cof(0, 0)) + float64(m[0][1]*cof(0, 1)) + float64(m[0][2]*cof(0, 2))
	for i := range out {
		for j := range out[i] {
			out[i][j] = cof(j, i) / det
		}
	}
	return out
}
