package page

import (
	"context"
	"errors"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// entered is a question in a queue of the tests.
type entered struct {
	about   any
	leave   context.CancelFunc
	turn    chan func() // receives release
	refused chan error
	before  chan int
}

func ask(q *queue, about any) *entered {
	ctx, cancel := context.WithCancel(context.Background())
	e := &entered{about: about, leave: cancel, turn: make(chan func(), 1), refused: make(chan error, 1), before: make(chan int, 100)}
	go func() {
		release, err := q.enter(ctx, about, func(n int) { e.before <- n })
		if err != nil {
			e.refused <- err
			return
		}
		e.turn <- release
	}()
	return e
}

// settle waits until the queue holds so many.
func settle(t interface{ Fatalf(string, ...any) }, q *queue, running, waiting int) {
	for end := time.Now().Add(10 * time.Second); ; time.Sleep(50 * time.Microsecond) {
		r, w := q.counts()
		if r == running && w == waiting {
			return
		}
		if time.Now().After(end) {
			t.Fatalf("%d run and %d wait, want %d and %d", r, w, running, waiting)
		}
	}
}

func TestQueueKeepsTheOrder(t *testing.T) {
	q := newQueue(1, 8)
	first := ask(q, nil)
	settle(t, q, 1, 0)
	var line []*entered
	for i := range 4 {
		line = append(line, ask(q, nil))
		settle(t, q, 1, i+1)
		if n := <-line[i].before; n != i {
			t.Errorf("number %d is told that %d wait before", i, n)
		}
	}
	line[1].leave() // who leaves makes room at once
	if err := <-line[1].refused; !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	settle(t, q, 1, 3)
	if n := <-line[3].before; n != 2 {
		t.Errorf("the last is told that %d wait before after one left", n)
	}
	(<-first.turn)()
	for _, i := range []int{0, 2, 3} {
		release := <-line[i].turn
		release()
		release() // twice does no harm
	}
	settle(t, q, 0, 0)
}

func TestQueueIsBounded(t *testing.T) {
	q := newQueue(2, 3)
	var all []*entered
	for i := range 5 {
		all = append(all, ask(q, nil))
		settle(t, q, min(i+1, 2), max(i-1, 0))
	}
	if err := <-ask(q, nil).refused; err != errFull {
		t.Errorf("the sixth: %v", err)
	}
	for _, e := range all {
		(<-e.turn)()
	}
	settle(t, q, 0, 0)
}

// A question about a session that is busy lets others pass and does not hold a
// place idle.
func TestQueueAboutOneThing(t *testing.T) {
	q := newQueue(2, 8)
	a := ask(q, "a")
	settle(t, q, 1, 0)
	again := ask(q, "a")
	settle(t, q, 1, 1)
	b := ask(q, "b")
	settle(t, q, 2, 1)
	(<-b.turn)()
	settle(t, q, 1, 1)
	(<-a.turn)()
	(<-again.turn)()
	settle(t, q, 0, 0)
}

// Whatever comes, runs and leaves in whatever order, the queue does what a plain
// list of the rules does.
func TestQueueAgainstList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		atOnce, most := rapid.IntRange(1, 3).Draw(t, "at once"), rapid.IntRange(0, 4).Draw(t, "waiting")
		q := newQueue(atOnce, most)
		var running, waiting []*entered
		start := func() {
			for i := 0; i < len(waiting) && len(running) < atOnce; {
				e := waiting[i]
				if e.about != nil && slices.ContainsFunc(running, func(r *entered) bool { return r.about == e.about }) {
					i++
					continue
				}
				waiting = slices.Delete(waiting, i, i+1)
				running = append(running, e)
			}
		}
		for range rapid.IntRange(1, 30).Draw(t, "steps") {
			switch step := rapid.IntRange(0, 3).Draw(t, "step"); {
			case step <= 1:
				e := ask(q, rapid.SampledFrom([]any{nil, "a", "b"}).Draw(t, "about"))
				waiting = append(waiting, e)
				start()
				if len(waiting) > most {
					waiting = waiting[:len(waiting)-1]
					if err := <-e.refused; err != errFull {
						t.Fatal(err)
					}
				}
			case step == 2 && len(waiting) > 0:
				i := rapid.IntRange(0, len(waiting)-1).Draw(t, "who leaves")
				waiting[i].leave()
				<-waiting[i].refused
				waiting = slices.Delete(waiting, i, i+1)
			case step == 3 && len(running) > 0:
				i := rapid.IntRange(0, len(running)-1).Draw(t, "who ends")
				(<-running[i].turn)()
				running = slices.Delete(running, i, i+1)
				start()
			}
			settle(t, q, len(running), len(waiting))
		}
		for _, e := range running {
			(<-e.turn)() // every one that should run does
		}
		for _, e := range waiting {
			e.leave()
		}
	})
}
