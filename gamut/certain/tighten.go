package certain

import (
	"math"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/portable"
)

// letBe is how much of a CIEDE2000 a face may be missed by before a cut is made.
const letBe = 1e-3

const worthwhile = 0.04 // of the largest doubt of a band

// tighten runs over the limits that matter, one linear program each; those that
// some vertex nearly attains already are passed over. True: the cell is empty.
func (w *worker) tighten(l *limits) bool {
	if w.empty() {
		return true
	}
	for k := range w.mixes {
		for b := range bands {
			w.mixes[k][b] = math.Inf(1 - k%2*2)
		}
	}
	w.note()
	var doubt [bands]float64
	top := 0.0
	for b := range bands {
		doubt[b] = w.p.tells[b] * (w.x.e.light[b] - w.x.e.dark[b])
		top = max(top, doubt[b])
	}
	for b, d := range doubt {
		if w.over() {
			return false
		}
		if d < worthwhile*top {
			continue
		}
		if w.move(l, check.MostR, b) || w.move(l, check.LeastR, b) {
			return true
		}
		if d/4*portable.Log(l.mostS[b]/l.leastS[b]) < worthwhile*top {
			continue
		}
		if w.move(l, check.LeastS, b) || w.move(l, check.MostS, b) {
			return true
		}
	}
	return false
}

// note widens the ranges that vertices are known to attain: of R, of S.
func (w *worker) note() {
	for b := range bands {
		r := w.p.ofQ(w.x.k[b] / w.x.s[b])
		w.mixes[0][b], w.mixes[1][b] = min(w.mixes[0][b], r), max(w.mixes[1][b], r)
		w.mixes[2][b], w.mixes[3][b] = min(w.mixes[2][b], w.x.s[b]), max(w.mixes[3][b], w.x.s[b])
	}
}

// attained is how much of the range of a limit vertices are known to fill.
func (w *worker) attained(l *limits, kind check.Row, b int) float64 {
	dark, light := w.p.Seen(l.leastR[b]), w.p.Seen(l.mostR[b])
	switch kind {
	case check.MostR:
		return (w.mixes[1][b] - dark) / (light - dark)
	case check.LeastR:
		return (light - w.mixes[0][b]) / (light - dark)
	case check.LeastS:
		return (l.mostS[b] - w.mixes[2][b]) / (l.mostS[b] - l.leastS[b])
	}
	return (w.mixes[3][b] - l.leastS[b]) / (l.mostS[b] - l.leastS[b])
}

// move tightens one limit; true: the cell was found empty.
func (w *worker) move(l *limits, kind check.Row, b int) bool {
	const near = 0.9
	if w.attained(l, kind, b) > near {
		return false
	}
	f, g := w.p.k[b], w.p.s[b]
	if kind == check.MostS || kind == check.LeastS {
		f, g = w.p.s[b], w.p.norm
	}
	if kind == check.MostR || kind == check.LeastS {
		for i := range f {
			w.f[i] = -f[i]
		}
		f = w.f
	}
	got := w.x.maximise(f, g)
	if got == empty {
		return w.emptied()
	}
	w.accept(l, kind, b, f, g)
	if got == optimal {
		w.note()
	}
	return false
}

// accept moves a limit to what the multipliers of f / g prove, where that is
// worth a step. Few digits keep certificates short: the multipliers are rounded,
// then the limit, outward, until the one is proved by the other.
func (w *worker) accept(l *limits, kind check.Row, b int, f, g []float64) {
	const digits, tries = 6, 3
	v := tighter(kind, w.x.safe(f, g))
	for range tries {
		v = outward(kind, v, digits)
		if w.gain(l, kind, b, v) < worthAStep {
			return
		}
		factor := 1.0
		if kind == check.MostR || kind == check.LeastR {
			factor = 2 * v
		}
		terms := w.x.terms(factor, digits)
		proved := tighter(kind, w.x.safe(f, g))
		if proved == v || (proved < v) == (kind == check.MostR || kind == check.MostS) {
			w.trail.round = append(w.trail.round, check.Step{Action: check.Move, Limit: kind, Band: b, Value: v, Terms: terms})
			l.set(kind, b, v)
			return
		}
		v = proved
	}
}

const worthAStep = 0.02 // of the range

// gain is how much of the range of R or S in a band is left out by a limit.
func (w *worker) gain(l *limits, kind check.Row, b int, x float64) float64 {
	least, most := l.leastS[b], l.mostS[b]
	if kind == check.MostR || kind == check.LeastR {
		if !(x > 0 && x < 1) {
			return 0
		}
		least, most, x = w.p.Seen(l.leastR[b]), w.p.Seen(l.mostR[b]), w.p.Seen(x)
	}
	x = min(max(x, least), most)
	if kind == check.MostR || kind == check.MostS {
		return (most - x) / (most - least)
	}
	return (x - least) / (most - least)
}
