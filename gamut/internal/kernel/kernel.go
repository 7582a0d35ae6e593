// Package kernel is the arithmetic that searches spend their time in: the colour
// of a mixture band by band, its difference from a target with exact slopes, and
// the distances of pairs of paints, with the same bits on every processor.
package kernel

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Paint is one paint as the search sees it: K and S side by side, divided by
// the mean of K+S so that strong and weak tinters weigh alike. Amounts of
// scaled paint are the amounts by volume times that mean.
type Paint struct{ k, s [colour.Bands]float64 }

// Scaled is p as the search sees it, and its mean K+S.
func Scaled(p *film.Paint) (b Paint, mean float64) {
	for i := range p.K {
		mean += (p.K[i] + p.S[i]) / colour.Bands
	}
	for i := range p.K {
		b.k[i], b.s[i] = p.K[i]/mean, p.S[i]/mean
	}
	return b, mean
}

// Optics are surface and light folded into one table: the seen reflectance is
// K1 + gain/(1/Rinf - K2), so X/Xn = base + sum of weight[0][b]/(1/Rinf - K2).
type Optics struct {
	k2     float64
	base   [3]float64
	weight [3][colour.Bands]float64
}

// NewOptics folds surface and light.
func NewOptics(surface film.Surface, light *colour.Light) Optics {
	o := Optics{k2: surface.K2}
	white := [3]float64{light.White.X, light.White.Y, light.White.Z}
	gain := (1 - surface.K1) * (1 - surface.K2)
	for i := range o.weight {
		for b, w := range light.Weights[i] {
			o.base[i] += surface.K1 * w / white[i]
			o.weight[i][b] = gain * w / white[i]
		}
	}
	return o
}

// Point is one mixture under evaluation. sum, perRoot and inverse are kept from
// colour for slopes.
type Point struct {
	sum              Paint
	perRoot, inverse [colour.Bands]float64 // 1/sqrt(k(k+2s)); 1/(s/Rinf - K2 s)
	XYZ              [3]float64            // X/Xn, Y/Yn, Z/Zn
	f, Cube          [3]float64            // CIELAB f and its derivative, by X/Xn, Y/Yn, Z/Zn
	Lab              colour.Lab
}

// Mix sums the paints listed, each by its scaled amount.
func (p *Point) Mix(paints []Paint, list []int, amounts []float64) {
	sumBands(&p.sum, paints, list, amounts)
}

// Colour turns the sums into CIELAB.
func (p *Point) Colour(o *Optics) {
	p.See(o)
	p.Appear()
}

// See turns the sums into X/Xn, Y/Yn, Z/Zn.
func (p *Point) See(o *Optics) {
	seenBands(&p.XYZ, p, o)
	for i := range p.XYZ {
		p.XYZ[i] += o.base[i]
	}
}

// Appear turns what is seen into CIELAB.
func (p *Point) Appear() {
	for i := range p.XYZ {
		p.f[i], p.Cube[i] = labF(p.XYZ[i])
	}
	p.Lab = colour.Lab{L: float64(116*p.f[1]) - 16, A: 500 * (p.f[0] - p.f[1]), B: 200 * (p.f[1] - p.f[2])}
}

// Slopes are what a change of the mixture does: to what each band reflects, by
// K and S, and to the three residuals, by X/Xn, Y/Yn, Z/Zn. The derivative by
// the amount of any paint is one scalar product for each of X, Y and Z.
type Slopes struct {
	optics *Optics
	seen   Paint
	byXYZ  [3][3]float64
}

// Fill takes p after colour and the residual at its colour.
func (d *Slopes) Fill(p *Point, o *Optics, f *Residual) {
	d.optics, d.byXYZ = o, toXYZ(p, f)
	slopeBands(&d.seen, p, o.k2)
}

// toXYZ is the derivative of the three residuals by X/Xn, Y/Yn, Z/Zn.
func toXYZ(p *Point, f *Residual) (m [3][3]float64) {
	m[0][1] = f.dL * 116 * p.Cube[1]
	for i := range f.DAB {
		a, b := float64(500*f.DAB[i][0]), float64(200*f.DAB[i][1])
		m[i+1] = [3]float64{a * p.Cube[0], (b - a) * p.Cube[1], -b * p.Cube[2]}
	}
	return m
}

// Weigh is the derivative of X/Xn, Y/Yn, Z/Zn by the scaled amount of one paint.
func (d *Slopes) Weigh(t *[3]float64, paint *Paint) { weighBands(t, &d.seen, d.optics, paint) }

// By is the derivative of the residuals by the scaled amount of one paint.
func (d *Slopes) By(j *[3]float64, paint *Paint) {
	var t [3]float64
	d.Weigh(&t, paint)
	x, y, z, m := t[0], t[1], t[2], &d.byXYZ
	j[0] = float64(m[0][0]*x) + float64(m[0][1]*y) + float64(m[0][2]*z)
	j[1] = float64(m[1][0]*x) + float64(m[1][1]*y) + float64(m[1][2]*z)
	j[2] = float64(m[2][0]*x) + float64(m[2][1]*y) + float64(m[2][2]*z)
}

// Towards is the slope of half the squared difference by K and S of the
// mixture: one scalar product with a paint tells whether it would help.
func (d *Slopes) Towards(r [3]float64, lean *Paint) {
	var u [3]float64
	for k := range u {
		u[k] = float64(r[0]*d.byXYZ[0][k]) + float64(r[1]*d.byXYZ[1][k]) + float64(r[2]*d.byXYZ[2][k])
	}
	w := &d.optics.weight
	for b := range lean.k {
		v := float64(u[0]*w[0][b]) + float64(u[1]*w[1][b]) + float64(u[2]*w[2][b])
		lean.k[b], lean.s[b] = v*d.seen.k[b], v*d.seen.s[b]
	}
}

// Dot is the scalar product over K and S of all bands.
func (p *Paint) Dot(q *Paint) float64 { return dotBands(p, q) }

// Dot is the scalar product of two vectors.
func Dot(a, b [3]float64) float64 {
	return float64(a[0]*b[0]) + float64(a[1]*b[1]) + float64(a[2]*b[2])
}
