package page

import (
	"context"
	"net/http"
	"slices"
	"sync"
)

// Bounds of the queue. The machine of a painter has a core or two to spare.
const (
	computations = 2  // run at once
	mostWaiting  = 32 // wait their turn; beyond, the page says to come back
)

var errFull = &trouble{http.StatusServiceUnavailable, "too many questions wait for an answer already; try again in a few seconds"}

// queue lets so many computations run at once; the rest wait in the order they
// came. A session serves one question at a time, so of those about the same
// thing one runs, and the others let the next one pass.
type queue struct {
	mu      sync.Mutex
	running int
	atOnce  int // may run
	most    int // may wait
	busy    map[any]bool
	waiting []*waiter
}

type waiter struct {
	about  any // nil: nothing that others are about
	turn   chan struct{}
	before chan int // how many wait before, the newest count
	told   int
}

func newQueue(atOnce, waiting int) *queue {
	return &queue{atOnce: atOnce, most: waiting, busy: map[any]bool{}}
}

// enter waits for a turn and tells how many wait before, whenever that
// changes; release gives the place back. It fails with errFull, or with the
// cause for which the context ended: then the place in the line is given up.
func (q *queue) enter(ctx context.Context, about any, tell func(before int)) (release func(), err error) {
	w := &waiter{about: about, turn: make(chan struct{}), before: make(chan int, 1), told: -1}
	if !q.join(w) {
		return nil, errFull
	}
	for {
		select {
		case <-w.turn:
			return sync.OnceFunc(func() { q.leave(w) }), nil
		case n := <-w.before:
			if tell != nil {
				tell(n)
			}
		case <-ctx.Done():
			q.leave(w)
			return nil, context.Cause(ctx)
		}
	}
}

func (q *queue) join(w *waiter) bool {
	q.mu.Lock()
	defer q.mu.Unlock()
	q.waiting = append(q.waiting, w)
	q.advance()
	if len(q.waiting) <= q.most {
		return true
	}
	q.waiting = q.waiting[:len(q.waiting)-1] // it is the last: only it can be too many
	return false
}

// leave takes w out, whether it waits still or has its turn.
func (q *queue) leave(w *waiter) {
	q.mu.Lock()
	defer q.mu.Unlock()
	if i := slices.Index(q.waiting, w); i >= 0 {
		q.waiting = slices.Delete(q.waiting, i, i+1)
	} else {
		q.running--
		delete(q.busy, w.about)
	}
	q.advance()
}

// advance gives the free places to the first that can use them.
func (q *queue) advance() {
	q.waiting = slices.DeleteFunc(q.waiting, func(w *waiter) bool {
		if q.running == q.atOnce || w.about != nil && q.busy[w.about] {
			return false
		}
		q.running++
		if w.about != nil {
			q.busy[w.about] = true
		}
		close(w.turn)
		return true
	})
	for i, w := range q.waiting {
		if w.told == i {
			continue
		}
		w.told = i
		select {
		case <-w.before: // an older count nobody has read yet
		default:
		}
		w.before <- i
	}
}

// counts is how many run and how many wait.
func (q *queue) counts() (running, waiting int) {
	q.mu.Lock()
	defer q.mu.Unlock()
	return q.running, len(q.waiting)
}
