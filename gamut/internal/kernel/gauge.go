package kernel

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Gauge is a quadratic stand-in for CIEDE2000 around one target, for ranking:
// ll dL^2 + aa da^2 + ab da db + bb db^2.
type Gauge struct{ l, a, b, ll, aa, ab, bb float32 }

// NewGauge is the gauge around t.
func NewGauge(t colour.Lab) Gauge {
	chroma := portable.Hypot(t.A, t.B)
	cos, sin := 1.0, 0.0
	if chroma > 1e-9 {
		cos, sin = t.A/chroma, t.B/chroma
	}
	u := float64((t.L - 50) * (t.L - 50))
	perL := 1 / (1 + 0.015*u/math.Sqrt(20+u))
	perC, perH := 1/(1+float64(0.045*chroma)), 1/(1+float64(0.015*chroma))
	cc, hh := float64(perC*perC), float64(perH*perH)
	return Gauge{
		l: float32(t.L), a: float32(t.A), b: float32(t.B), ll: float32(perL * perL),
		aa: float32(float64(cc*cos*cos) + float64(hh*sin*sin)), ab: float32(2 * (cc - hh) * cos * sin), bb: float32(float64(cc*sin*sin) + float64(hh*cos*cos)),
	}
}

// At is the distance of a pair at the k-th ratio.
func (g *Gauge) At(p *Pair, k int) float32 {
	return g.Distance(p.L[k], p.A[k], p.B[k])
}

// Distance is the gauge's square of the difference from L*, a*, b* to the target.
func (g *Gauge) Distance(l, a, b float32) float32 {
	l, a, b = l-g.l, a-g.a, b-g.b
	return float32(g.ll*l*l) + float32(a*(float32(g.aa*a)+float32(g.ab*b))) + float32(g.bb*b*b)
}

// All are the distances of a pair at every ratio.
func (g *Gauge) All(d *[len(Ratios)]float32, p *Pair) {
	for k := range d {
		d[k] = g.At(p, k)
	}
}

// Next is the place in others of the first whose pair has a colour nearer than the
// nearest so far of its region or than worst, and the distances d of that pair;
// len(others) when there is none.
func (g *Gauge) Next(nearest *[Regions]float32, pairs []Pair, others []int, worst float32, d *[Lanes]float32) int {
	return nextPair(g, nearest, pairs, others, worst, d)
}

// Pair is two paints at each ratio, and the last again: CIELAB, and the region
// it lies in.
type Pair struct {
	L, A, B [Lanes]float32
	Region  [Lanes]uint8
}

// Lanes are the colours of a pair that are judged at once.
const Lanes = 8

// Ratios are the parts of the second paint in a pair, scaled amounts. The
// ends are close because a trace of a strong tinter already turns a white.
var Ratios = [...]float64{0.008, 0.05, 0.2, 0.5, 0.8, 0.95, 0.992}

// PairOf are two paints at every ratio.
func PairOf(paints []Paint, o *Optics, i, j int) (to Pair) {
	var p Point
	for k := range Lanes {
		t := Ratios[min(k, len(Ratios)-1)]
		p.Mix(paints, []int{i, j}, []float64{1 - t, t})
		p.Colour(o)
		to.L[k], to.A[k], to.B[k] = float32(p.Lab.L), float32(p.Lab.A), float32(p.Lab.B)
		to.Region[k] = hueRegion(to.A[k], to.B[k])
	}
	return to
}

// Regions are those of hue and chroma that starts are kept apart by.
const Regions = 32

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
