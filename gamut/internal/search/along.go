package search

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
)

// The ranking of a bank by its gauge knows nothing of the edge, and seven samples
// of a pair may miss the narrow dip where it passes the grey axis. Where a target
// is far off, pairs are followed from one paint to the other by the difference
// itself, more closely where the hue turns fast, up to either side of the edge.

const (
	alongEnds  = 2     // samples at either end beyond those of the bank
	alongTurn  = 0.766 // the cosine of 40 degrees: samples whose hues differ by more are too far apart
	alongDepth = 4     // times the way between two samples is halved
	alongClose = 1.02  // ratio of ratios: how closely a dip is sought
)

// alongRatios are the samples of a pair to begin with, as parts of the second paint to
// one of the first, scaled amounts: a trace of it already colours a grey.
var alongRatios = func() (ratios [len(kernel.Ratios) + 2*alongEnds]float64) {
	for k, t := range [len(ratios)]float64{
		1e-4, 1e-3, kernel.Ratios[0], kernel.Ratios[1], kernel.Ratios[2], kernel.Ratios[3], kernel.Ratios[4], kernel.Ratios[5], kernel.Ratios[6], 0.999, 0.9999,
	} {
		ratios[k] = t / (1 - t)
	}
	return ratios
}()

// sample is a mix of two paints.
type sample struct {
	ratio float64
	lab   colour.Lab
	de    float64 // CIEDE2000; +Inf where the lightness alone is too far off
	side  float64 // of the edge; 0 where hues differ by less than a right angle
}

// dip is a place on the way between two paints that is nearer than those around it.
type dip struct {
	first, second  int
	ratio, squared float64
}

// follow lists in w.samples the samples on the way from one paint to another.
func (w *workspace) follow(i, j int) {
	w.samples = w.samples[:0]
	banked := &w.m.bank.row(i)[j]
	for k, ratio := range alongRatios {
		var s sample
		if b := k - alongEnds; b >= 0 && b < len(kernel.Ratios) {
			s = w.judged(ratio, colour.Lab{L: float64(banked.L[b]), A: float64(banked.A[b]), B: float64(banked.B[b])})
		} else {
			s = w.mixed(i, j, ratio)
		}
		if k > 0 {
			w.between(i, j, w.samples[len(w.samples)-1], s, alongDepth)
		}
		w.samples = append(w.samples, s)
	}
}

// between adds samples between two.
func (w *workspace) between(i, j int, p, q sample, depth int) {
	if p.side*q.side < 0 {
		before, after := p, q
		for range edgeHalvings {
			if m := w.mixed(i, j, math.Sqrt(before.ratio*after.ratio)); m.side == p.side {
				before = m
			} else {
				after = m
			}
		}
		w.between(i, j, p, before, depth-1)
		w.samples = append(w.samples, before, after)
		w.between(i, j, after, q, depth-1)
		return
	}
	along := float64(p.lab.A*q.lab.A) + float64(p.lab.B*q.lab.B)
	if depth <= 0 || along >= alongTurn*math.Sqrt(chromaSquared(p.lab)*chromaSquared(q.lab)) {
		return
	}
	m := w.mixed(i, j, math.Sqrt(p.ratio*q.ratio))
	w.between(i, j, p, m, depth-1)
	w.samples = append(w.samples, m)
	w.between(i, j, m, q, depth-1)
}

func chromaSquared(c colour.Lab) float64 { return float64(c.A*c.A) + float64(c.B*c.B) }

func (w *workspace) mixed(i, j int, ratio float64) sample {
	w.list, w.amount = append(w.list[:0], i, j), append(w.amount[:0], 1, ratio)
	w.next.Mix(w.m.bands, w.list, w.amount)
	w.next.Colour(&w.m.optics)
	return w.judged(ratio, w.next.Lab)
}

func (w *workspace) judged(ratio float64, lab colour.Lab) sample {
	s := sample{ratio: ratio, lab: lab, de: math.Inf(1)}
	if w.offset(lab.L) > w.best.squared {
		return s
	}
	w.aimNext.At(lab)
	s.de = math.Sqrt(w.aimNext.Squared)
	if w.aimNext.Along < 0 {
		s.side = math.Copysign(1, w.aimNext.Cross)
	}
	return s
}

// offset is the squared difference of a lightness alone.
func (w *workspace) offset(lightness float64) float64 {
	w.aimNext.Lightness(lightness)
	return float64(w.aimNext.R[0] * w.aimNext.R[0])
}

// findDips adds to w.dips those among the samples that may be nearer than the best.
func (w *workspace) findDips(i, j int) {
	best := math.Sqrt(w.best.squared)
	for k := range w.samples {
		s := &w.samples[k]
		if depth, lowest := w.depth(k); lowest && s.de-depth < best {
			low := w.sharpen(i, j, k)
			w.dips = append(w.dips, dip{i, j, low.ratio, low.de * low.de})
		}
	}
}

// depth is how much farther off the samples beside one are, at most, on the same side
// of the edge; lowest, whether none of them is nearer.
func (w *workspace) depth(k int) (depth float64, lowest bool) {
	s := &w.samples[k]
	if math.IsInf(s.de, 1) {
		return 0, false
	}
	depth = math.Inf(-1)
	for _, o := range [...]int{k - 1, k + 1} {
		if !w.beside(k, o) {
			continue
		}
		gap := w.samples[o].de - s.de
		if gap < 0 || gap == 0 && o < k {
			return 0, false
		}
		depth = max(depth, gap)
	}
	return math.Abs(depth), true
}

// beside reports whether there is a sample o that no edge parts from sample k.
func (w *workspace) beside(k, o int) bool {
	return o >= 0 && o < len(w.samples) && w.samples[k].side*w.samples[o].side >= 0
}

// sharpen seeks the lowest of the dip at a sample between those beside it, by halving
// the longer part: slopes, which the edge leads astray, take no part.
func (w *workspace) sharpen(i, j, k int) sample {
	low := w.samples[k]
	from, to := low.ratio, low.ratio
	if w.beside(k, k-1) {
		from = w.samples[k-1].ratio
	}
	if w.beside(k, k+1) {
		to = w.samples[k+1].ratio
	}
	for to > alongClose*from {
		far := &to
		if low.ratio*low.ratio > from*to {
			far = &from
		}
		s := w.mixed(i, j, math.Sqrt(low.ratio**far))
		if s.de < low.de {
			low, s = s, low
			if far == &to {
				far = &from
			} else {
				far = &to
			}
		}
		*far = s.ratio
	}
	return low
}
