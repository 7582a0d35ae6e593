package colour

// LinearRGB is linear light in the sRGB primaries, 0..1 per channel inside the
// gamut: the scale in which light adds and may be averaged.
type LinearRGB struct{ R, G, B float64 }

// Linear undoes the coding of sRGB (IEC 61966-2-1).
func (c SRGB) Linear() LinearRGB {
	return LinearRGB{decode(c.R), decode(c.G), decode(c.B)}
}

// SRGB codes linear light.
func (c LinearRGB) SRGB() SRGB {
	return SRGB{encode(c.R), encode(c.G), encode(c.B)}
}

// Lab converts to CIELAB against the sRGB white, as SRGB.Lab does.
func (c LinearRGB) Lab() Lab {
	v := apply(srgbToXYZ, [3]float64{c.R, c.G, c.B})
	return XYZ{100 * v[0], 100 * v[1], 100 * v[2]}.Lab(srgbWhite)
}
