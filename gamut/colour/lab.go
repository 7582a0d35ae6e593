package colour

import (
	"math"

	"fewtubes/gamut/portable"
)

// XYZ is a CIE 1931 tristimulus value, Y of the perfect diffuser 100.
type XYZ struct{ X, Y, Z float64 }

// Lab is a CIELAB colour (CIE 015): L 0..100, A (green to red) and B (blue to
// yellow) about -130..130. The white it refers to is that of the light in use.
type Lab struct{ L, A, B float64 }

// LCh is CIELAB in polar form: L 0..100, chroma C >= 0, hue H in degrees,
// 0 <= H < 360 as computed, any angle as given.
type LCh struct{ L, C, H float64 }

const (
	labEpsilon = 216.0 / 24389 // (6/29)^3, CIE 015
	labKappa   = 24389.0 / 27  // (29/3)^3, CIE 015
)

// Lab converts to CIELAB against the given white (CIE 015, section 8.2.1).
func (c XYZ) Lab(white XYZ) Lab {
	fx, fy, fz := labF(c.X/white.X), labF(c.Y/white.Y), labF(c.Z/white.Z)
	return Lab{float64(116*fy) - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

func labF(t float64) float64 {
	if t > labEpsilon {
		return portable.Cbrt(t)
	}
	return (float64(labKappa*t) + 16) / 116
}

// XYZ converts back against the given white; the inverse of XYZ.Lab.
func (c Lab) XYZ(white XYZ) XYZ {
	fy := (c.L + 16) / 116
	return XYZ{
		white.X * labInverse(fy+c.A/500),
		white.Y * labInverse(fy),
		white.Z * labInverse(fy-c.B/200),
	}
}

func labInverse(f float64) float64 {
	if cube := f * f * f; cube > labEpsilon {
		return cube
	}
	return (float64(116*f) - 16) / labKappa
}

// LCh converts to polar form; the hue of a neutral is 0.
func (c Lab) LCh() LCh {
	chroma := portable.Hypot(c.A, c.B)
	if chroma == 0 {
		return LCh{L: c.L}
	}
	return LCh{c.L, chroma, hueDegrees(c.A, c.B)}
}

// Lab converts from polar form.
func (c LCh) Lab() Lab {
	sin, cos := portable.Sincos(c.H * math.Pi / 180)
	return Lab{c.L, c.C * cos, c.C * sin}
}

// Finite reports whether no coordinate is NaN or infinite.
func (c Lab) Finite() bool {
	return !math.IsNaN(c.L-c.L) && !math.IsNaN(c.A-c.A) && !math.IsNaN(c.B-c.B)
}

// hueDegrees is the angle of (a, b), 0 <= h < 360, 0 for a neutral.
func hueDegrees(a, b float64) float64 {
	if a == 0 && b == 0 {
		return 0
	}
	h := portable.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	if h == 360 { // a rounding below a full turn
		return 0
	}
	return h
}
