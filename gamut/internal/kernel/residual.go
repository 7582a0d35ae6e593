package kernel

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Residual is CIEDE2000 against one target written as three numbers whose
// squares sum to its square, with their exact derivatives: what a least-squares
// step needs. The rotation term among the blues, RT*c*h, is folded in by
// completing the square.
type Residual struct {
	Target  colour.Lab
	Chroma  float64 // C* of the target
	R       [3]float64
	dL      float64       // d r[0] / dL; the others do not depend on L
	DAB     [2][2]float64 // d r[1..2] / d(a, b)
	Squared float64       // sum of squares of r
	Cross   float64       // of the chroma vectors of target and mix: > 0 where the mix is the next anticlockwise
	Along   float64       // their scalar product: < 0 where hues differ by more than a right angle
	DTurn   [2]float64    // d (difference of hue, radians) / d(a, b)
}

// GreyFloor keeps hue angles and their derivatives defined on the grey axis; it
// moves the difference by less than 1e-6.
const GreyFloor = 1e-14

func NewResidual(target colour.Lab) Residual {
	if math.Abs(target.A) < GreyFloor && math.Abs(target.B) < GreyFloor {
		target.A = GreyFloor
	}
	return Residual{Target: target, Chroma: math.Sqrt(float64(target.A*target.A) + float64(target.B*target.B))}
}

// At evaluates the residual of mix (Sharma, Wu, Dalal 2005, eqs. 2-22) and its
// derivatives, carried forward by the chain rule: a name followed by A or B is
// the derivative by that coordinate of mix.
func (f *Residual) At(mix colour.Lab) {
	t := &f.Target
	a, b := mix.A, mix.B
	if math.Abs(a) < GreyFloor && math.Abs(b) < GreyFloor {
		a = GreyFloor
	}
	c2 := math.Sqrt(float64(a*a) + float64(b*b))
	ratio, slope := chromaRatio((f.Chroma + c2) / 2)
	g1 := 1 + float64(0.5*(1-ratio))
	gA, gB := -slope/4*a/c2, -slope/4*b/c2

	// eqs. 5-7: stretched a, chroma, hue
	a1, a2 := float64(g1*t.A), float64(g1*a)
	a1A, a1B := t.A*gA, t.A*gB
	a2A, a2B := g1+float64(a*gA), a*gB
	p1, p2 := math.Sqrt(float64(a1*a1)+float64(t.B*t.B)), math.Sqrt(float64(a2*a2)+float64(b*b))
	i1, i2 := 1/p1, 1/p2
	p1A, p1B := float64(a1*a1A*i1), float64(a1*a1B*i1)
	p2A, p2B := float64(a2*a2A*i2), float64((float64(a2*a2B)+b)*i2)
	h1A, h1B := float64(-t.B*a1A*i1*i1), float64(-t.B*a1B*i1*i1)
	h2A, h2B := float64(-b*a2A*i2*i2), float64((a2-float64(b*a2B))*i2*i2)

	// eqs. 8-11: differences, by the products of the chroma vectors instead of angles
	cross, along := float64(a1*b)-float64(t.B*a2), float64(a1*a2)+float64(t.B*b)
	f.Cross, f.Along, f.DTurn = cross, along, [2]float64{h2A - h1A, h2B - h1B}
	both := float64(p1 * p2)
	bothA, bothB := float64(p1A*p2)+float64(p1*p2A), float64(p1B*p2)+float64(p1*p2B)
	alongA, alongB := float64(a1A*a2)+float64(a1*a2A), float64(a1B*a2)+float64(a1*a2B)+t.B
	var dH, dHA, dHB, sin, cos float64 // sine and cosine of the mean hue
	if along >= 0 {
		half := 1 / math.Sqrt((both+along)/2)
		dH = cross * half
		quarter := 0.25 * dH * half
		dHA = (float64(a1A*b) - float64(t.B*a2A) - float64(quarter*(bothA+alongA))) * half
		dHB = (float64(a1B*b) + a1 - float64(t.B*a2B) - float64(quarter*(bothB+alongB))) * half
		cos, sin = float64(a1*i1)+float64(a2*i2), float64(t.B*i1)+float64(b*i2)
	} else {
		dH = math.Copysign(math.Sqrt(2*(both-along)), cross)
		dHA, dHB = (bothA-alongA)/dH, (bothB-alongB)/dH
		cos, sin = math.Copysign(1, cross)*(float64(b*i2)-float64(t.B*i1)), math.Copysign(1, cross)*(float64(a1*i1)-float64(a2*i2))
	}
	unit := 1 / math.Sqrt(float64(cos*cos)+float64(sin*sin))
	cos, sin = cos*unit, sin*unit

	// eqs. 12-21: means and weights
	f.Lightness(mix.L)
	pm := (p1 + p2) / 2
	pmA, pmB := (p1A+p2A)/2, (p1B+p2B)/2
	meanA, meanB := (h1A+h2A)/2, (h1B+h2B)/2
	iC := 1 / (1 + float64(0.045*pm))
	c := float64((p2 - p1) * iC)
	cA := float64(((p2A - p1A) - float64(0.045*c*pmA)) * iC)
	cB := float64(((p2B - p1B) - float64(0.045*c*pmB)) * iC)
	hue, hueSlope := hueWeight(sin, cos)
	iH := 1 / (1 + float64(0.015*pm*hue))
	h := dH * iH
	hA := (dHA - float64(0.015*h*(float64(pmA*hue)+float64(pm*hueSlope*meanA)))) * iH
	hB := (dHB - float64(0.015*h*(float64(pmB*hue)+float64(pm*hueSlope*meanB)))) * iH

	rot, rotC, rotM := rotation(pm, sin, cos)
	rotA, rotB := float64(rotC*pmA)+float64(rotM*meanA), float64(rotC*pmB)+float64(rotM*meanB)
	w := math.Sqrt(1 - float64(rot*rot/4))
	wA, wB := -rot*rotA/(4*w), -rot*rotB/(4*w)
	f.R[1], f.R[2] = c+float64(rot/2*h), w*h
	f.DAB = [2][2]float64{
		{cA + float64((float64(rotA*h)+float64(rot*hA))/2), cB + float64((float64(rotB*h)+float64(rot*hB))/2)},
		{float64(wA*h) + float64(w*hA), float64(wB*h) + float64(w*hB)},
	}
	f.Squared = float64(f.R[0]*f.R[0]) + float64(f.R[1]*f.R[1]) + float64(f.R[2]*f.R[2])
}

// Gradient is that of half the squared difference by a and b.
func (f *Residual) Gradient() [2]float64 {
	d := &f.DAB
	return [2]float64{
		float64(f.R[1]*d[0][0]) + float64(f.R[2]*d[1][0]),
		float64(f.R[1]*d[0][1]) + float64(f.R[2]*d[1][1]),
	}
}

// Lightness is the first residual (eq. 15).
func (f *Residual) Lightness(L float64) {
	dL, m := L-f.Target.L, float64((L+f.Target.L)/2)-50
	u := float64(m * m)
	root := math.Sqrt(20 + u)
	i := 1 / (1 + 0.015*u/root)
	slope := 0.015 * m * (20 + float64(u/2)) / ((20 + u) * root)
	f.R[0] = dL * i
	f.dL = (1 - float64(f.R[0]*slope)) * i
}

// chromaRatio is sqrt(c^7/(c^7+25^7)) and its derivative.
func chromaRatio(c float64) (ratio, slope float64) {
	const c25 = 25. * 25 * 25 * 25 * 25 * 25 * 25
	c2 := c * c
	c6 := c2 * c2 * c2
	i := 1 / (float64(c6*c) + c25)
	ratio = math.Sqrt(c6 * c * i)
	if ratio == 0 {
		return 0, 0
	}
	return ratio, 3.5 * c6 * c25 * i * i / ratio
}

var (
	sin30, cos30 = portable.Sincos(30 * math.Pi / 180)
	sin6, cos6   = portable.Sincos(6 * math.Pi / 180)
	sin63, cos63 = portable.Sincos(63 * math.Pi / 180)
)

// hueWeight is T of eq. 15 and its derivative by the mean hue (radians), of the
// sine and cosine of the mean hue.
func hueWeight(s1, c1 float64) (t, slope float64) {
	s2, c2 := float64(2*s1*c1), float64(c1*c1)-float64(s1*s1)
	s3, c3 := float64(s2*c1)+float64(c2*s1), float64(c2*c1)-float64(s2*s1)
	s4, c4 := 2*s2*c2, float64(c2*c2)-float64(s2*s2)
	t = 1 - float64(0.17*(float64(c1*cos30)+float64(s1*sin30))) + float64(0.24*c2) + float64(0.32*(float64(c3*cos6)-float64(s3*sin6))) - float64(0.20*(float64(c4*cos63)+float64(s4*sin63)))
	slope = float64(0.17*(float64(s1*cos30)-float64(c1*sin30))) - float64(0.48*s2) - float64(0.96*(float64(s3*cos6)+float64(c3*sin6))) + float64(0.80*(float64(s4*cos63)-float64(c4*sin63)))
	return t, slope
}
