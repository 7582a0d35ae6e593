package search

import (
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/portable"
)

// mostExhaustive is the number of paints up to which every division into parts
// is evaluated; above it, those into few parts, the shortlists of a linear model
// at the best amounts and again at the best division, and what lies next to the
// best of all.
const (
	mostExhaustive = 3
	fewParts       = 7
	shortlist      = 16
	shortlistFirst = 4 // where every division is weighed after
	mostRounds     = 2
)

// MostParts is the most parts a mix may be divided into.
const MostParts = 255

// divider finds the best whole parts of a few ingredients, each with at least
// one part.
type divider struct {
	paint  []kernel.Paint
	volume []float64 // scaled amount of one part of each
	most   int       // parts in all
	aim    kernel.Residual
	optics *kernel.Optics

	// The model of a long list: residuals linear in the logarithms of amounts.
	at        [3]float64
	slope     [][3]float64
	logAmount []float64
	short     []division
	mostShort int
	worst     float64 // a guess has to be below it

	darkest, lightest float64 // Y/Yn between which a division may still be the best

	sum     kernel.Point
	list    []int     // 0, 1, ...: all ingredients
	scaled  []float64 // amounts of the division weighed
	parts   []int
	squared float64
	found   []int
}

// division is one way to divide and what the model makes of it.
type division struct {
	parts   []int
	squared float64
}

// Divide is the best division of some paints into whole parts, at most so many in
// all; free are the scaled amounts that would be best if they need not be whole.
func (m *Paints) Divide(target colour.Lab, paints []int, free []float64, most int) []int {
	d := divider{aim: kernel.NewResidual(target), optics: &m.optics, most: most}
	for _, p := range paints {
		d.paint = append(d.paint, m.bands[p])
		d.volume = append(d.volume, m.scale[p])
	}
	return d.best(free)
}

// best is the division nearest to the target; free are the best amounts when
// they need not be whole.
func (d *divider) best(free []float64) []int {
	d.parts, d.squared = make([]int, len(d.paint)), math.Inf(1)
	d.darkest, d.lightest = math.Inf(-1), math.Inf(1)
	d.list, d.scaled = make([]int, len(d.paint)), make([]float64, len(d.paint))
	for i := range d.list {
		d.list[i] = i
	}
	if len(d.paint) <= mostExhaustive {
		d.mostShort = shortlistFirst
		d.model(free)
		d.tryShort()
		d.bound()
		d.each(0, d.most)
		return d.found
	}
	d.mostShort = shortlist
	d.each(0, min(d.most, fewParts))
	d.model(free)
	if d.squared < d.aim.Squared { // free amounts were sought in the wrong place
		d.model(d.amounts())
	}
	for round := 0; round < mostRounds; round++ {
		before := d.squared
		d.tryShort()
		if d.squared == before {
			break
		}
		d.model(d.amounts())
	}
	d.climb()
	return d.found
}

// tryShort weighs the divisions that the model favours.
func (d *divider) tryShort() {
	d.short, d.worst = d.short[:0], math.Inf(1)
	d.guess(0, d.most, d.at)
	for _, s := range d.short {
		copy(d.parts, s.parts)
		d.weigh()
	}
}

// amounts are the scaled amounts of the best division found.
func (d *divider) amounts() []float64 {
	out := make([]float64, len(d.found))
	for i, n := range d.found {
		out[i] = float64(n) * d.volume[i]
	}
	return out
}

// each weighs every division of what is left from a depth on.
func (d *divider) each(depth, left int) {
	if depth == len(d.paint) {
		if commonFactor(d.parts) == 1 { // others are met in smaller parts
			d.weigh()
		}
		return
	}
	for n := 1; n <= left-(len(d.paint)-depth-1); n++ {
		d.parts[depth] = n
		d.each(depth+1, left-n)
	}
}

// model prepares the linear model at the best free amounts. None of them is
// taken for less than the smallest share that parts can give it: slopes at
// amounts that no division comes near would say little.
func (d *divider) model(free []float64) {
	n := len(d.paint)
	amounts := make([]float64, n)
	volume := 0.0
	for i, a := range free {
		volume += a / d.volume[i]
	}
	d.logAmount = make([]float64, n)
	for i, a := range free {
		v := max(a/d.volume[i], volume/float64(d.most))
		amounts[i], d.logAmount[i] = v*d.volume[i], portable.Log(v)
	}
	d.sum.Mix(d.paint, d.list, amounts)
	d.sum.Colour(d.optics)
	d.aim.At(d.sum.Lab)
	d.at = d.aim.R
	var s kernel.Slopes
	s.Fill(&d.sum, d.optics, &d.aim)
	d.slope = make([][3]float64, n)
	var j [3]float64
	for i := range d.paint {
		s.By(&j, &d.paint[i])
		for k := range j {
			d.slope[i][k] = j[k] * amounts[i]
			d.at[k] -= float64(d.slope[i][k] * d.logAmount[i])
		}
	}
}

// guess goes through the divisions of what is left from a depth on, r being the
// model's residuals by the parts before, and keeps the best in d.short. Amounts
// are homogeneous, so the slopes see only ratios.
func (d *divider) guess(depth, left int, r [3]float64) {
	j := d.slope[depth]
	if depth == len(d.paint)-1 {
		d.guessLast(left, r, j)
		return
	}
	for n := 1; n <= left-(len(d.paint)-depth-1); n++ {
		x := logs[n]
		d.parts[depth] = n
		d.guess(depth+1, left-n, [3]float64{r[0] + float64(j[0]*x), r[1] + float64(j[1]*x), r[2] + float64(j[2]*x)})
	}
}

func (d *divider) guessLast(left int, r, j [3]float64) {
	r0, r1, r2 := r[0], r[1], r[2]
	j0, j1, j2 := j[0], j[1], j[2]
	for n := 1; n <= left; n++ {
		x := logs[n]
		q0, q1, q2 := r0+float64(j0*x), r1+float64(j1*x), r2+float64(j2*x)
		if squared := float64(q0*q0) + float64(q1*q1) + float64(q2*q2); squared < d.worst {
			d.parts[len(d.parts)-1] = n
			d.keep(squared)
		}
	}
}

// keep puts the present division on the shortlist in its place.
func (d *divider) keep(squared float64) {
	if commonFactor(d.parts) != 1 {
		return
	}
	n := len(d.short)
	if n == d.mostShort {
		n--
	} else {
		d.short = append(d.short, division{parts: make([]int, len(d.paint))})
	}
	last := d.short[n]
	for ; n > 0 && d.short[n-1].squared > squared; n-- {
		d.short[n] = d.short[n-1]
	}
	copy(last.parts, d.parts)
	last.squared = squared
	d.short[n] = last
	if len(d.short) == d.mostShort {
		d.worst = d.short[d.mostShort-1].squared
	}
}

// climb goes from the best division to better ones that differ by a part more,
// a part less or a part of one paint in place of another.
func (d *divider) climb() {
	for {
		before := d.squared
		from := slices.Clone(d.found)
		for i := range from {
			for k := -1; k < len(from); k++ {
				d.step(from, i, k, 1)
				d.step(from, i, k, -1)
			}
		}
		if d.squared == before {
			return
		}
	}
}

// step weighs a division with by parts more of i and, unless k is -1, as many
// fewer of k.
func (d *divider) step(from []int, i, k, by int) {
	copy(d.parts, from)
	d.parts[i] += by
	if k >= 0 {
		d.parts[k] -= by
	}
	total := 0
	for _, n := range d.parts {
		if n < 1 {
			return
		}
		total += n
	}
	if total <= d.most && i != k && commonFactor(d.parts) == 1 {
		d.weigh()
	}
}

// bound rules out what is so much darker or lighter than the target that no hue
// makes up for it: most divisions, beside a good one.
func (d *divider) bound() {
	far := math.Sqrt(d.squared)
	edge := func(side float64) float64 {
		near, beyond := d.aim.Target.L, d.aim.Target.L+float64(side*(float64(3*far)+1)) // S_L is under 1.8
		for range 30 {
			mid := (near + beyond) / 2
			if d.aim.Lightness(mid); math.Abs(d.aim.R[0]) > far {
				beyond = mid
			} else {
				near = mid
			}
		}
		return colour.Lab{L: beyond}.XYZ(colour.XYZ{X: 1, Y: 1, Z: 1}).Y
	}
	d.darkest, d.lightest = edge(-1), edge(1)
}

// weigh compares the present division with the best so far.
func (d *divider) weigh() {
	p := &d.sum
	for i, n := range d.parts {
		d.scaled[i] = float64(n) * d.volume[i]
	}
	p.Mix(d.paint, d.list, d.scaled)
	p.See(d.optics)
	if y := p.XYZ[1]; y < d.darkest || y > d.lightest {
		return
	}
	p.Appear()
	if d.aim.At(p.Lab); d.aim.Squared < d.squared {
		d.squared = d.aim.Squared
		d.found = append(d.found[:0], d.parts...)
	}
}

var logs = func() (l [MostParts + 1]float64) {
	for n := range l {
		l[n] = portable.Log(float64(n))
	}
	return l
}()

func commonFactor(parts []int) int {
	g := 0
	for _, n := range parts {
		for n != 0 {
			g, n = n, g%n
		}
		if g == 1 {
			return 1
		}
	}
	return g
}
