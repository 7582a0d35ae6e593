package certain

import (
	"math"

	"fewtubes/gamut/certain/check"
)

// letBe is how much of a CIEDE2000 a face may be missed by before a cut is made.
const letBe = 1e-3

const worthwhile = 0.04 // of the largest doubt of a band

// tighten runs over the limits that matter, one linear program each; those that
// some vertex nearly attains already are passed over. True: the cell is empty.
func (s *search) tighten(l *limits) bool {
	if s.empty() {
		return true
	}
	for k := range s.mixes {
		for b := range bands {
			s.mixes[k][b] = math.Inf(1 - k%2*2)
		}
	}
	s.note()
	var doubt [bands]float64
	top := 0.0
	for b := range bands {
		doubt[b] = s.p.tells[b] * (s.x.e.light[b] - s.x.e.dark[b])
		top = max(top, doubt[b])
	}
	for b, d := range doubt {
		if d < worthwhile*top {
			continue
		}
		if s.move(l, check.MostR, b) || s.move(l, check.LeastR, b) {
			return true
		}
		if d/4*math.Log(l.mostS[b]/l.leastS[b]) < worthwhile*top {
			continue
		}
		if s.move(l, check.LeastS, b) || s.move(l, check.MostS, b) {
			return true
		}
	}
	return false
}

// note widens the ranges that vertices are known to attain: of R, of S.
func (s *search) note() {
	for b := range bands {
		r := s.p.ofQ(s.x.k[b] / s.x.s[b])
		s.mixes[0][b], s.mixes[1][b] = min(s.mixes[0][b], r), max(s.mixes[1][b], r)
		s.mixes[2][b], s.mixes[3][b] = min(s.mixes[2][b], s.x.s[b]), max(s.mixes[3][b], s.x.s[b])
	}
}

// attained is how much of the range of a limit vertices are known to fill.
func (s *search) attained(l *limits, kind check.Row, b int) float64 {
	dark, light := s.p.Seen(l.leastR[b]), s.p.Seen(l.mostR[b])
	switch kind {
	case check.MostR:
		return (s.mixes[1][b] - dark) / (light - dark)
	case check.LeastR:
		return (light - s.mixes[0][b]) / (light - dark)
	case check.LeastS:
		return (l.mostS[b] - s.mixes[2][b]) / (l.mostS[b] - l.leastS[b])
	}
	return (s.mixes[3][b] - l.leastS[b]) / (l.mostS[b] - l.leastS[b])
}

// move tightens one limit; true: the cell was found empty.
func (s *search) move(l *limits, kind check.Row, b int) bool {
	const near = 0.9
	if s.attained(l, kind, b) > near {
		return false
	}
	f, g := s.p.k[b], s.p.s[b]
	if kind == check.MostS || kind == check.LeastS {
		f, g = s.p.s[b], s.p.norm
	}
	if kind == check.MostR || kind == check.LeastS {
		for i := range f {
			s.f[i] = -f[i]
		}
		f = s.f
	}
	got := s.x.maximise(f, g)
	if got == empty {
		return s.emptied()
	}
	s.accept(l, kind, b, tighter(kind, s.x.safe(f, g)))
	if got == optimal {
		s.note()
	}
	return false
}

// accept moves a limit to x where that is worth a step.
func (s *search) accept(l *limits, kind check.Row, b int, x float64) {
	const least = 0.02 // of the range
	before, gain := *l, 0.0
	switch kind {
	case check.MostR, check.LeastR:
		l.set(kind, b, min(max(x, l.leastR[b]), l.mostR[b]))
		wide := s.p.Seen(before.mostR[b]) - s.p.Seen(before.leastR[b])
		gain = 1 - (s.p.Seen(l.mostR[b])-s.p.Seen(l.leastR[b]))/wide
	default:
		l.set(kind, b, min(max(x, l.leastS[b]), l.mostS[b]))
		gain = 1 - (l.mostS[b]-l.leastS[b])/(before.mostS[b]-before.leastS[b])
	}
	if !(gain > least) {
		*l = before
		return
	}
	// the multipliers belong to the rows as they were before the move
	after := *l
	*l = before
	factor := 1.0
	value := after.mostS[b]
	switch kind {
	case check.MostR:
		value = after.mostR[b]
		factor = 2 * value
	case check.LeastR:
		value = after.leastR[b]
		factor = 2 * value
	case check.LeastS:
		value = after.leastS[b]
	}
	step := check.Step{Action: check.Move, Limit: kind, Band: b, Value: value, Terms: s.x.multipliers(factor)}
	s.trail.round = append(s.trail.round, step)
	*l = after
}
