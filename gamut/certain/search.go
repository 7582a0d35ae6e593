package certain

import (
	"context"

	"fewtubes/gamut/certain/check"
)

// search is a branch and bound over cells: the limits of a cell are tightened
// by linear programs; a cell that resists is split.
type search struct {
	p      *cone
	x      simplex
	trail  trail
	found  func(paints []int, amounts []float64) bool // a mix within the tolerance?
	open   []limits
	cells  int
	f      []float64
	any    []float64 // an objective for the mere question whether a cell is empty
	mixes  [4][bands]float64
	broken bool // a mix within the tolerance was found
}

func newSearch(p *cone, found func([]int, []float64) bool) *search {
	s := &search{p: p, f: make([]float64, p.n), any: make([]float64, p.n), found: found}
	s.x.p, s.x.enough = p, letBe
	for i := range s.any {
		for b := range bands {
			s.any[i] -= p.tells[b] * p.s[b][i] / (100 * bands)
		}
	}
	l, moves := p.whole()
	s.open, s.trail.steps = []limits{l}, moves
	return s
}

// run works through at most so many cells; true: none is left.
func (s *search) run(ctx context.Context, cells int) bool {
	for len(s.open) > 0 && !s.broken {
		if s.cells >= cells || ctx.Err() != nil {
			return false
		}
		last := len(s.open) - 1
		l := s.open[last]
		s.open = s.open[:last]
		s.cells++
		s.visit(&l)
	}
	return !s.broken
}

const (
	rounds  = 12   // of tightening per cell
	onwards = 0.93 // a round that leaves more of the spread is the last
)

func (s *search) visit(l *limits) {
	s.trail.cell()
	for range rounds {
		before := s.spread(l)
		s.x.begin(l)
		done := s.tighten(l)
		s.trail.flush(s.x.cuts)
		if done || s.broken {
			return
		}
		if s.spread(l) > onwards*before {
			break
		}
	}
	s.x.begin(l)
	done := s.empty()
	s.trail.flush(s.x.cuts)
	if !done && !s.broken {
		s.split(l)
	}
}

// spread is the doubt about the colour that is left in a cell.
func (s *search) spread(l *limits) (sum float64) {
	for b := range bands {
		sum += s.p.tells[b] * (s.p.Seen(l.mostR[b]) - s.p.Seen(l.leastR[b]))
	}
	return sum
}

// empty asks whether the cell holds no mix, and tries the mix it finds.
func (s *search) empty() bool {
	switch got := s.x.maximise(s.any, s.p.norm); got {
	case empty:
		return s.emptied()
	case optimal:
		s.broken = s.broken || s.found(s.x.paint, s.x.y)
	}
	return false
}

// emptied closes the cell if the multipliers at hand prove it empty.
func (s *search) emptied() bool {
	if !s.x.void() {
		return false
	}
	s.trail.round = append(s.trail.round, check.Step{Action: check.Empty, Terms: s.x.multipliers(1)})
	return true
}

// split halves the cell in R of the band whose envelope is widest at the last
// vertex.
func (s *search) split(l *limits) {
	e, at, widest := &s.x.e, 0, -1.0
	for b := range bands {
		high, _ := e.above(b, s.x.k[b], s.x.s[b])
		low, _ := e.below(s.p, b, s.x.k[b], s.x.s[b])
		if v := s.p.tells[b] * (high - low); v > widest {
			widest, at = v, b
		}
	}
	r := s.between(l, at)
	s.trail.steps = append(s.trail.steps, check.Step{Action: check.Split, Limit: check.MostR, Band: at, Value: r})
	first, second := *l, *l
	first.set(check.MostR, at, r)
	second.set(check.LeastR, at, r)
	s.open = append(s.open, second, first)
}

// between is a reflectance half way in R, drawn towards the last vertex.
func (s *search) between(l *limits, b int) float64 {
	light, dark := s.x.e.light[b], s.x.e.dark[b]
	r := ((light+dark)/2 + s.p.ofQ(s.x.k[b]/s.x.s[b])) / 2
	r = min(max(r, dark+(light-dark)/4), light-(light-dark)/4)
	return min(max(s.p.Inside(r), l.leastR[b]), l.mostR[b])
}
