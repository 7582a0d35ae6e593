package certain

import (
	"context"

	"fewtubes/gamut/certain/check"
)

// worker works on one cell at a time: its limits are tightened by linear
// programs; a cell that resists is split.
type worker struct {
	p     *cone
	ctx   context.Context
	x     simplex
	trail trail
	f     []float64
	any   []float64 // an objective for the mere question whether a cell is empty
	mixes [4][bands]float64
	mix   *reached
	try   func(paints []int, amounts []float64) *reached
}

func newWorker(ctx context.Context, p *cone, try func([]int, []float64) *reached) *worker {
	w := &worker{p: p, ctx: ctx, f: make([]float64, p.n), any: make([]float64, p.n), try: try}
	w.x.p, w.x.enough = p, letBe
	for i := range w.any {
		for b := range bands {
			w.any[i] -= p.tells[b] * p.s[b][i] / (100 * bands)
		}
	}
	return w
}

const (
	rounds  = 12   // of tightening per cell
	onwards = 0.93 // a round that leaves more of the spread is the last
)

// visit empties a cell or splits it, unless the context ends or a mix within
// the tolerance is found.
func (w *worker) visit(n *node) {
	w.mix, w.x.pivots, w.trail = nil, 0, trail{steps: n.steps}
	l := n.limits
	closed := w.close(&l)
	if !closed && !w.over() {
		n.halves = w.split(&l)
	}
	n.steps, n.mix, n.pivots = w.trail.steps, w.mix, w.x.pivots
}

// over reports whether nothing more is to be done.
func (w *worker) over() bool { return w.mix != nil || w.ctx.Err() != nil }

// close tries to empty a cell.
func (w *worker) close(l *limits) bool {
	for range rounds {
		before := w.spread(l)
		w.x.begin(l)
		closed := w.tighten(l)
		w.trail.flush(w.x.cuts)
		if closed || w.over() {
			return closed
		}
		if w.spread(l) > onwards*before {
			break
		}
	}
	w.x.begin(l)
	closed := w.empty()
	w.trail.flush(w.x.cuts)
	return closed
}

// spread is the doubt about the colour that is left in a cell.
func (w *worker) spread(l *limits) (sum float64) {
	for b := range bands {
		sum += float64(w.p.tells[b] * (w.p.Seen(l.mostR[b]) - w.p.Seen(l.leastR[b])))
	}
	return sum
}

// empty asks whether the cell holds no mix, and tries the mix it finds.
func (w *worker) empty() bool {
	switch got := w.x.maximise(w.any, w.p.norm); got {
	case empty:
		return w.emptied()
	case optimal:
		if w.mix == nil {
			w.mix = w.try(w.x.paint, w.x.y)
		}
	}
	return false
}

// emptied closes the cell if the multipliers at hand prove it empty.
func (w *worker) emptied() bool {
	terms, ok := w.x.void()
	if ok {
		w.trail.round = append(w.trail.round, check.Step{Action: check.Empty, Terms: terms})
	}
	return ok
}

// split halves the cell in R of the band whose envelope is widest at the last
// vertex. The half that is worked on first comes last.
func (w *worker) split(l *limits) []*node {
	e, at, widest := &w.x.e, 0, -1.0
	for b := range bands {
		high, _ := e.above(b, w.x.k[b], w.x.s[b])
		low, _ := e.below(w.p, b, w.x.k[b], w.x.s[b])
		if v := w.p.tells[b] * (high - low); v > widest {
			widest, at = v, b
		}
	}
	r := w.between(l, at)
	w.trail.steps = append(w.trail.steps, check.Step{Action: check.Split, Limit: check.MostR, Band: at, Value: r})
	first, second := &node{limits: *l}, &node{limits: *l}
	first.set(check.MostR, at, r)
	second.set(check.LeastR, at, r)
	return []*node{second, first}
}

// between is a reflectance half way in R, drawn towards the last vertex.
func (w *worker) between(l *limits, b int) float64 {
	light, dark := w.x.e.light[b], w.x.e.dark[b]
	r := (float64((light+dark)/2) + w.p.ofQ(w.x.k[b]/w.x.s[b])) / 2
	r = min(max(r, dark+float64((light-dark)/4)), light-float64((light-dark)/4))
	return min(max(w.p.Inside(r), l.leastR[b]), l.mostR[b])
}
