package gamut

import (
	"math"
	"slices"
)

// mostExhaustive is the number of paints up to which every division into parts
// is evaluated; above it, the shortlist of a linear model.
const (
	mostExhaustive = 3
	shortlist      = 96
)

// divider finds the best whole parts of a few ingredients, each with at least
// one part.
type divider struct {
	paint  []bands
	volume []float64 // scaled amount of one part of each
	most   int       // parts in all
	aim    residual
	optics *optics

	// The model of a long list: residuals linear in the logarithms of amounts.
	linear    bool
	at        [3]float64
	slope     [][3]float64
	logAmount []float64
	short     []division

	sums    []point // by depth: what the parts chosen so far sum to
	parts   []int
	squared float64
	found   []int
}

// division is one way to divide and what the model makes of it.
type division struct {
	parts   []int
	squared float64
}

// model prepares the linear model at the best free amounts.
func (d *divider) model(amounts []float64) {
	var p point
	list := make([]int, len(d.paint))
	d.logAmount = make([]float64, len(list))
	for i := range list {
		list[i] = i
	}
	free := slices.Clone(amounts)
	for i := range free { // a paint of no use keeps a trace, for the logarithm
		free[i] = max(free[i], 1e-3)
		d.logAmount[i] = math.Log(free[i] / d.volume[i])
	}
	p.mix(d.paint, list, free)
	p.colour(d.optics)
	d.aim.at(p.lab)
	d.at = d.aim.r
	var s slopes
	s.fill(&p, d.optics, &d.aim)
	d.slope = make([][3]float64, len(list))
	for i := range list {
		j := s.by(&d.paint[i])
		for k := range j {
			d.slope[i][k] = j[k] * free[i]
		}
	}
	d.linear = true
}

// best is the division nearest to the target.
func (d *divider) best() []int {
	n := len(d.paint)
	d.sums, d.parts, d.squared = make([]point, n+1), make([]int, 0, n), math.Inf(1)
	if !d.linear {
		d.each(d.most, true, d.weigh)
		return d.found
	}
	d.each(d.most, false, d.guess)
	for _, s := range d.short {
		d.parts = append(d.parts[:0], s.parts...)
		d.sums[n].sum = bands{}
		for i, k := range s.parts {
			d.sums[n].add(&d.paint[i], float64(k)*d.volume[i])
		}
		d.weigh()
	}
	return d.found
}

// each visits every division; with sums it keeps the film's sums up to date.
func (d *divider) each(left int, sums bool, visit func()) {
	depth := len(d.parts)
	if depth == len(d.paint) {
		if commonFactor(d.parts) == 1 { // others are met in smaller parts
			visit()
		}
		return
	}
	next := &d.sums[depth+1]
	if sums {
		next.sum = d.sums[depth].sum
	}
	for n := 1; n <= left-(len(d.paint)-depth-1); n++ {
		if sums {
			next.add(&d.paint[depth], d.volume[depth])
		}
		d.parts = append(d.parts, n)
		d.each(left-n, sums, visit)
		d.parts = d.parts[:depth]
	}
}

// weigh compares the division in the last sum with the best so far.
func (d *divider) weigh() {
	p := &d.sums[len(d.parts)]
	p.colour(d.optics)
	d.aim.lightness(p.lab.L)
	if d.aim.r[0]*d.aim.r[0] >= d.squared {
		return
	}
	if d.aim.at(p.lab); d.aim.squared < d.squared {
		d.squared = d.aim.squared
		d.found = append(d.found[:0], d.parts...)
	}
}

// guess keeps the division if the model puts it among the best. Amounts are
// homogeneous, so the slopes see only ratios.
func (d *divider) guess() {
	r := d.at
	for i, n := range d.parts {
		x := logs[n] - d.logAmount[i]
		j := &d.slope[i]
		r[0] += j[0] * x
		r[1] += j[1] * x
		r[2] += j[2] * x
	}
	squared := dot(r, r)
	n := len(d.short)
	if n == shortlist {
		if squared >= d.short[n-1].squared {
			return
		}
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
}

var logs = func() (l [256]float64) {
	for n := range l {
		l[n] = math.Log(float64(n))
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
