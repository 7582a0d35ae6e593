package certain

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"fewtubes/gamut/certain/check"
)

// search is a branch and bound over cells. What becomes of a cell depends on its
// limits alone, so cells are worked on side by side, always as many at a time
// as there are, whatever the processors: the answer does not depend on them.
type search struct {
	root  *node
	open  []*node
	cells int
	mix   *reached // a mix within the tolerance, when one was found
}

// node is a cell, what was done in it, and the halves it was split into.
type node struct {
	limits
	steps  []check.Step
	halves []*node
	mix    *reached
	pivots int
}

// atOnce is how many cells are taken up together.
const atOnce = 4

// run works through at most so many cells; true: none is left. make is asked
// for as many workers as there are processors.
func (s *search) run(ctx context.Context, cells int, make func() *worker) (done bool, pivots int) {
	var workers []*worker
	for range min(atOnce, runtime.GOMAXPROCS(0)) {
		workers = append(workers, make())
	}
	s.open = []*node{s.root}
	for len(s.open) > 0 && s.mix == nil {
		if s.cells >= cells || ctx.Err() != nil {
			return false, pivots
		}
		from := max(0, len(s.open)-min(atOnce, cells-s.cells))
		now := s.open[from:]
		s.open = s.open[:from:from]
		s.cells += len(now)
		share(workers, now)
		for _, n := range now {
			pivots += n.pivots
			s.open = append(s.open, n.halves...)
			if s.mix == nil {
				s.mix = n.mix
			}
		}
	}
	return s.mix == nil && ctx.Err() == nil, pivots
}

// share spreads cells over the workers.
func share(workers []*worker, now []*node) {
	if len(workers) == 1 || len(now) == 1 {
		for _, n := range now {
			workers[0].visit(n)
		}
		return
	}
	var next atomic.Int64
	var all sync.WaitGroup
	for _, w := range workers {
		all.Go(func() {
			for i := int(next.Add(1)) - 1; i < len(now); i = int(next.Add(1)) - 1 {
				w.visit(now[i])
			}
		})
	}
	all.Wait()
}

// steps lists the steps of a cell, then those of its first half, then of the other.
func (n *node) all(steps []check.Step) []check.Step {
	steps = append(steps, n.steps...)
	for i := len(n.halves) - 1; i >= 0; i-- {
		steps = n.halves[i].all(steps)
	}
	return steps
}
