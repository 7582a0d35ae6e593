package kernel

import (
	"math"

	"fewtubes/gamut/colour"
)

// The loops over bands, where nearly all of a search's time goes. They go in
// steps of four lanes, each with a sum of its own, lanes added last as (0+2) +
// (1+3): processors that work on four numbers at once (bandloops_amd64.s) then
// give the same bits as these.

// sumGeneric sums the paints listed, each by its amount, from the first to the
// last. Two at once spare half of the loads and stores of the sum.
func sumGeneric(sum *Paint, paints []Paint, list []int, amounts []float64) {
	amounts = amounts[:len(list)]
	p, c := &paints[list[0]], amounts[0]
	for b := range sum.k {
		sum.k[b], sum.s[b] = c*p.k[b], c*p.s[b]
	}
	i := 1
	for ; i+1 < len(list); i += 2 {
		p, c, q, d := &paints[list[i]], amounts[i], &paints[list[i+1]], amounts[i+1]
		for b := range sum.k {
			sum.k[b] = sum.k[b] + float64(c*p.k[b]) + float64(d*q.k[b])
			sum.s[b] = sum.s[b] + float64(c*p.s[b]) + float64(d*q.s[b])
		}
	}
	if i < len(list) {
		p, c := &paints[list[i]], amounts[i]
		for b := range sum.k {
			sum.k[b] += float64(c * p.k[b])
			sum.s[b] += float64(c * p.s[b])
		}
	}
}

// seenGeneric fills perRoot and inverse of p from its sums, and adds up what is
// seen by the three weights. All is homogeneous in K and S, which leaves one
// square root and one division to a band.
func seenGeneric(t *[3]float64, p *Point, o *Optics) {
	var x, y, z [4]float64
	for b := 0; b < colour.Bands; b += 4 {
		r0, r1, r2, r3 := p.band(b, o.k2), p.band(b+1, o.k2), p.band(b+2, o.k2), p.band(b+3, o.k2)
		lanes(&x, &o.weight[0], b, r0, r1, r2, r3)
		lanes(&y, &o.weight[1], b, r0, r1, r2, r3)
		lanes(&z, &o.weight[2], b, r0, r1, r2, r3)
	}
	t[0], t[1], t[2] = total(&x), total(&y), total(&z)
}

func (p *Point) band(b int, k2 float64) float64 {
	k, s := p.sum.k[b], p.sum.s[b]
	root := math.Sqrt(k * (k + s + s))
	rest := k + s - float64(k2*s) + root
	both := 1 / (root * rest)
	p.perRoot[b], p.inverse[b] = both*rest, both*root
	return s * p.inverse[b]
}

// slopeGeneric is the derivative of what each band reflects, before its weight,
// by K and S of the mixture; p after colour.
func slopeGeneric(d *Paint, p *Point, k2 float64) {
	for b := range d.k {
		k, s, inverse, perRoot := p.sum.k[b], p.sum.s[b], p.inverse[b], p.perRoot[b]
		square := s * inverse * inverse
		d.k[b] = -square * (1 + float64((k+s)*perRoot))
		d.s[b] = inverse - float64(square*(1-k2+float64(k*perRoot)))
	}
}

// weighGeneric is the change of X/Xn, Y/Yn, Z/Zn by one paint.
func weighGeneric(t *[3]float64, d *Paint, o *Optics, paint *Paint) {
	var x, y, z [4]float64
	for b := 0; b < colour.Bands; b += 4 {
		r0 := float64(d.k[b]*paint.k[b]) + float64(d.s[b]*paint.s[b])
		r1 := float64(d.k[b+1]*paint.k[b+1]) + float64(d.s[b+1]*paint.s[b+1])
		r2 := float64(d.k[b+2]*paint.k[b+2]) + float64(d.s[b+2]*paint.s[b+2])
		r3 := float64(d.k[b+3]*paint.k[b+3]) + float64(d.s[b+3]*paint.s[b+3])
		lanes(&x, &o.weight[0], b, r0, r1, r2, r3)
		lanes(&y, &o.weight[1], b, r0, r1, r2, r3)
		lanes(&z, &o.weight[2], b, r0, r1, r2, r3)
	}
	t[0], t[1], t[2] = total(&x), total(&y), total(&z)
}

// dotGeneric is the scalar product over K and S of all bands.
func dotGeneric(p, q *Paint) float64 {
	var k, s [4]float64
	for b := 0; b < colour.Bands; b += 4 {
		lanes(&k, &p.k, b, q.k[b], q.k[b+1], q.k[b+2], q.k[b+3])
		lanes(&s, &p.s, b, q.s[b], q.s[b+1], q.s[b+2], q.s[b+3])
	}
	for i := range k {
		k[i] += s[i]
	}
	return total(&k)
}

// nextPairGeneric is Next of a gauge.
func nextPairGeneric(g *Gauge, nearest *[Regions]float32, pairs []Pair, others []int, worst float32, d *[Lanes]float32) int {
	for n, j := range others {
		p := &pairs[j]
		for k := range p.L {
			if g.At(p, k) < max(worst, nearest[p.Region[k]%Regions]) {
				for k := range d {
					d[k] = g.At(p, k)
				}
				return n
			}
		}
	}
	return len(others)
}

func lanes(sum *[4]float64, w *[colour.Bands]float64, b int, r0, r1, r2, r3 float64) {
	sum[0] += float64(w[b] * r0)
	sum[1] += float64(w[b+1] * r1)
	sum[2] += float64(w[b+2] * r2)
	sum[3] += float64(w[b+3] * r3)
}

func total(lane *[4]float64) float64 { return (lane[0] + lane[2]) + (lane[1] + lane[3]) }
