package film

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Paint is a tube as the film model knows it: K and S per band, both > 0 and on
// the scale where titanium white scatters 1 (see the package comment).
type Paint struct{ K, S [colour.Bands]float64 }

// Mix writes the volume-weighted sum of K and S into dst (Duncan, Proc. Phys.
// Soc. 52:390, 1940). amounts are >= 0, one per paint, on any common scale.
func Mix(dst *Paint, paints []Paint, amounts []float64) {
	*dst = Paint{}
	for i := range paints {
		p, c := &paints[i], amounts[i]
		for b := range dst.K {
			dst.K[b] += float64(c * p.K[b])
			dst.S[b] += float64(c * p.S[b])
		}
	}
}

// Infinite is the internal reflectance of an opaque film with q = K/S >= 0
// (Kubelka & Munk, Z. tech. Phys. 12:593, 1931): 1 + q - sqrt(q^2 + 2q), in the
// form that keeps its digits when q is large.
func Infinite(q float64) float64 {
	return 1 / (1 + q + math.Sqrt(q*(q+2)))
}

// Ratio is K/S of an opaque film with internal reflectance r (0 < r <= 1); the
// inverse of Infinite.
func Ratio(r float64) float64 {
	return (1 - r) * (1 - r) / (2 * r)
}

// Over is the internal reflectance of a film of thickness x with absorption k
// and scattering s per unit thickness, laid over a backing of internal
// reflectance rg (Kubelka, J. Opt. Soc. Am. 38:448, 1948, eq. 17).
func Over(k, s, x, rg float64) float64 {
	if x == 0 {
		return rg
	}
	if s < 1e-12*max(k, 1e-12) {
		return rg * portable.Exp(-2*k*x)
	}
	a := 1 + k/s
	b := math.Sqrt(k / s * (k/s + 2))
	bsx := b * s * x
	bcoth := 0.0
	switch {
	case b < 1e-9:
		bcoth = 1 / (s * x)
	default:
		bcoth = b / portable.Tanh(bsx)
	}
	return (1 - float64(rg*(a-bcoth))) / (a - rg + bcoth)
}

// Masstone is the reflectance of the paint alone in an opaque film, as seen
// through the surface.
func (p *Paint) Masstone(surface Surface) colour.Spectrum {
	var s colour.Spectrum
	for b := range s {
		s[b] = surface.Seen(Infinite(p.K[b] / p.S[b]))
	}
	return s
}

// Tint is the opaque reflectance of one volume of p in n volumes of white.
func (p *Paint) Tint(white *Paint, n float64, surface Surface) colour.Spectrum {
	var mix Paint
	Mix(&mix, []Paint{*p, *white}, []float64{1, n})
	return mix.Masstone(surface)
}
