package search

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// gauge is a quadratic stand-in for CIEDE2000 around one target, for ranking:
// ll dL^2 + aa da^2 + ab da db + bb db^2.
type gauge struct{ l, a, b, ll, aa, ab, bb float32 }

func newGauge(t colour.Lab) gauge {
	chroma := portable.Hypot(t.A, t.B)
	cos, sin := 1.0, 0.0
	if chroma > 1e-9 {
		cos, sin = t.A/chroma, t.B/chroma
	}
	u := float64((t.L - 50) * (t.L - 50))
	perL := 1 / (1 + 0.015*u/math.Sqrt(20+u))
	perC, perH := 1/(1+float64(0.045*chroma)), 1/(1+float64(0.015*chroma))
	cc, hh := float64(perC*perC), float64(perH*perH)
	return gauge{
		l: float32(t.L), a: float32(t.A), b: float32(t.B), ll: float32(perL * perL),
		aa: float32(float64(cc*cos*cos) + float64(hh*sin*sin)), ab: float32(2 * (cc - hh) * cos * sin), bb: float32(float64(cc*sin*sin) + float64(hh*cos*cos)),
	}
}

// at is the distance of a pair at a ratio.
func (g *gauge) at(p *pair, k int) float32 {
	l, a, b := p.l[k]-g.l, p.a[k]-g.a, p.b[k]-g.b
	return float32(g.ll*l*l) + float32(a*(float32(g.aa*a)+float32(g.ab*b))) + float32(g.bb*b*b)
}

// all are the distances of a pair at every ratio.
func (g *gauge) all(d *[len(bankRatios)]float32, p *pair) {
	for k := range d {
		d[k] = g.at(p, k)
	}
}

// pair is two paints at each ratio, and the last again: CIELAB, and the region
// it lies in.
type pair struct {
	l, a, b [pairLanes]float32
	region  [pairLanes]uint8
}

// pairLanes are the colours of a pair that are judged at once.
const pairLanes = 8

// bankRatios are the parts of the second paint in a pair, scaled amounts. The
// ends are close because a trace of a strong tinter already turns a white.
var bankRatios = [...]float64{0.008, 0.05, 0.2, 0.5, 0.8, 0.95, 0.992}

// pairOf are two paints at every ratio.
func pairOf(paints []bands, o *optics, i, j int) (to pair) {
	var p point
	for k := range pairLanes {
		t := bankRatios[min(k, len(bankRatios)-1)]
		p.mix(paints, []int{i, j}, []float64{1 - t, t})
		p.colour(o)
		to.l[k], to.a[k], to.b[k] = float32(p.lab.L), float32(p.lab.A), float32(p.lab.B)
		to.region[k] = hueRegion(to.a[k], to.b[k])
	}
	return to
}

const hueRegions = 32

// hueRegion is one of four steps of chroma and eight of hue.
func hueRegion(a, b float32) uint8 {
	r := uint8(0)
	switch d := float32(a*a) + float32(b*b); {
	case d > 900:
		r = 8
	case d > 200:
		r = 16
	case d > 30:
		r = 24
	}
	if a < 0 {
		r, a = r|1, -a
	}
	if b < 0 {
		r, b = r|2, -b
	}
	if a < b {
		r |= 4
	}
	return r
}
