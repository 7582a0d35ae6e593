package gamut

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// bands is one paint as the search sees it: K and S side by side, divided by
// the mean of K+S so that strong and weak tinters weigh alike. Amounts of
// scaled paint are the amounts by volume times that mean.
type bands struct{ k, s [colour.Bands]float64 }

func scaled(p *film.Paint) (b bands, mean float64) {
	for i := range p.K {
		mean += (p.K[i] + p.S[i]) / colour.Bands
	}
	for i := range p.K {
		b.k[i], b.s[i] = p.K[i]/mean, p.S[i]/mean
	}
	return b, mean
}

// optics are surface and light folded into one table: the seen reflectance is
// K1 + gain/(1/Rinf - K2), so X/Xn = base + sum of weight[0][b]/(1/Rinf - K2).
type optics struct {
	k2     float64
	base   [3]float64
	weight [3][colour.Bands]float64
}

func newOptics(surface film.Surface, light *colour.Light) optics {
	o := optics{k2: surface.K2}
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

// point is one mixture under evaluation. sum, perRoot and inverse are kept from
// colour for slopes.
type point struct {
	sum              bands
	perRoot, inverse [colour.Bands]float64 // 1/sqrt(k(k+2s)); 1/(s/Rinf - K2 s)
	f, cube          [3]float64            // CIELAB f and its derivative, by X/Xn, Y/Yn, Z/Zn
	lab              colour.Lab
}

// mix sums the paints listed, each by its scaled amount.
func (p *point) mix(paints []bands, list []int, amounts []float64) {
	first := &paints[list[0]]
	c := amounts[0]
	for b := range p.sum.k {
		p.sum.k[b] = c * first.k[b]
		p.sum.s[b] = c * first.s[b]
	}
	for i := 1; i < len(list); i++ {
		if c := amounts[i]; c != 0 {
			p.add(&paints[list[i]], c)
		}
	}
}

func (p *point) add(paint *bands, c float64) {
	for b := range p.sum.k {
		p.sum.k[b] += c * paint.k[b]
		p.sum.s[b] += c * paint.s[b]
	}
}

// colour turns the sums into CIELAB. All is homogeneous in k and s, which
// leaves one square root and one division to a band.
func (p *point) colour(o *optics) {
	var x, y, z float64
	for b := range p.sum.k {
		k, s := p.sum.k[b], p.sum.s[b]
		root := math.Sqrt(k * (k + s + s))
		rest := k + s - o.k2*s + root
		both := 1 / (root * rest)
		inverse := both * root
		p.perRoot[b], p.inverse[b] = both*rest, inverse
		r := s * inverse
		x += o.weight[0][b] * r
		y += o.weight[1][b] * r
		z += o.weight[2][b] * r
	}
	p.f[0], p.cube[0] = labF(o.base[0] + x)
	p.f[1], p.cube[1] = labF(o.base[1] + y)
	p.f[2], p.cube[2] = labF(o.base[2] + z)
	p.lab = colour.Lab{L: 116*p.f[1] - 16, A: 500 * (p.f[0] - p.f[1]), B: 200 * (p.f[1] - p.f[2])}
}

// labF is the CIELAB f of CIE 015 and its derivative.
func labF(t float64) (f, slope float64) {
	const epsilon, kappa = 216.0 / 24389, 24389.0 / 27
	if t > epsilon {
		f = math.Cbrt(t)
		return f, 1 / (3 * f * f)
	}
	return (kappa*t + 16) / 116, kappa / 116
}

// slopes holds the derivative of each residual by K and S of the mixture, so
// that its derivative by the amount of any paint is one scalar product.
type slopes [3]bands

// fill takes p after colour and the residual at its colour.
func (d *slopes) fill(p *point, o *optics, f *residual) {
	m := toXYZ(p, f)
	for b := range p.sum.k {
		k, s, inv, perRoot := p.sum.k[b], p.sum.s[b], p.inverse[b], p.perRoot[b]
		byK := -s * inv * inv * (1 + (k+s)*perRoot)
		byS := inv - s*inv*inv*(1-o.k2+k*perRoot)
		w0, w1, w2 := o.weight[0][b], o.weight[1][b], o.weight[2][b]
		for i := range d {
			w := m[i][0]*w0 + m[i][1]*w1 + m[i][2]*w2
			d[i].k[b] = w * byK
			d[i].s[b] = w * byS
		}
	}
}

// toXYZ is the derivative of the three residuals by X/Xn, Y/Yn, Z/Zn.
func toXYZ(p *point, f *residual) (m [3][3]float64) {
	m[0][1] = f.dL * 116 * p.cube[1]
	for i := range f.dAB {
		a, b := 500*f.dAB[i][0], 200*f.dAB[i][1]
		m[i+1] = [3]float64{a * p.cube[0], (b - a) * p.cube[1], -b * p.cube[2]}
	}
	return m
}

// by is the derivative of the residuals by the scaled amount of one paint.
func (d *slopes) by(paint *bands) (j [3]float64) {
	var j0, j1, j2, h0, h1, h2 float64
	for b := range paint.k {
		k, s := paint.k[b], paint.s[b]
		j0 += d[0].k[b] * k
		h0 += d[0].s[b] * s
		j1 += d[1].k[b] * k
		h1 += d[1].s[b] * s
		j2 += d[2].k[b] * k
		h2 += d[2].s[b] * s
	}
	return [3]float64{j0 + h0, j1 + h1, j2 + h2}
}

// towards is the slope of half the squared difference by K and S of the
// mixture: one scalar product with a paint tells whether it would help.
func (d *slopes) towards(r [3]float64, sum *bands) {
	for b := range sum.k {
		sum.k[b] = r[0]*d[0].k[b] + r[1]*d[1].k[b] + r[2]*d[2].k[b]
		sum.s[b] = r[0]*d[0].s[b] + r[1]*d[1].s[b] + r[2]*d[2].s[b]
	}
}

func (p *bands) dot(q *bands) float64 {
	var even, odd, even2, odd2 float64
	for b := 0; b < len(p.k); b += 2 {
		even += p.k[b] * q.k[b]
		odd += p.k[b+1] * q.k[b+1]
		even2 += p.s[b] * q.s[b]
		odd2 += p.s[b+1] * q.s[b+1]
	}
	return even + odd + even2 + odd2
}
