package cover

import (
	"context"
	"fmt"
	"runtime"
	"time"

	"github.com/go-air/gini"
	"github.com/go-air/gini/inter"
	"github.com/go-air/gini/z"
)

// master is the SAT solver: one literal per member, one clause per cut. Its calls are legal in these states and panic in others:
//
//	state      clause  lit  solve  holds  why
//	steady     yes     yes  yes    no     no
//	satisfied  yes     yes  yes    yes    no
//	failed     yes     yes  yes    no     yes
//	cancelled  yes     yes  yes    no     no
//
// clause and lit lead back to steady; solve leads to its result. Clauses must come
// in a deterministic order, then so do the models.
type master struct {
	g       *gini.Gini
	state   masterState
	reasons []z.Lit // assumptions that failed together
	dead    bool    // failed whatever is assumed
	truth   z.Lit   // always true
}

type masterState int

const (
	steady masterState = iota
	stateSatisfied
	stateFailed
	stateCancelled
)

var stateNames = [...]string{"steady", "satisfied", "failed", "cancelled"}

func newMaster() *master {
	m := &master{g: gini.New()}
	m.truth = m.g.Lit()
	m.clause(m.truth)
	return m
}

// forget drops the conflict of a failed solve by adding what is true anyway.
// Left to itself, gini v1.0.4 would go on from the conflict and, where that
// leads to another without any assumption, end the process over a wrong model.
func (m *master) forget() { m.clause(m.truth) }

// lit is a fresh literal.
func (m *master) lit() z.Lit {
	m.state = steady
	return m.g.Lit()
}

// clause adds the disjunction of the literals. The empty clause is refused: a
// fresh literal and its denial say the same and keep the solver usable.
func (m *master) clause(lits ...z.Lit) {
	m.state = steady
	if len(lits) == 0 {
		x := m.g.Lit()
		m.clause(x)
		m.clause(x.Not())
		return
	}
	for _, l := range lits {
		m.g.Add(l)
	}
	m.g.Add(0)
}

// solve looks for a model under assumptions that hold for this call alone.
func (m *master) solve(ctx context.Context, assume ...z.Lit) Result {
	if ctx.Err() != nil {
		m.state = stateCancelled
		return Cancelled
	}
	if m.dead {
		m.state, m.reasons = stateFailed, nil
		return Failed
	}
	if m.state == stateFailed {
		m.forget()
	}
	m.g.Assume(assume...)
	var out Result
	if ctx.Done() == nil {
		out = Result(m.g.Solve())
	} else {
		out = waitFor(ctx, m.g.GoSolve())
	}
	switch out {
	case Satisfied:
		m.state = stateSatisfied
	case Failed:
		m.state = stateFailed
		m.reasons = m.g.Why(nil)
		// A conflict that needs no assumption is for good; forget would lose it.
		m.dead = len(m.reasons) == 0
	default:
		m.state = stateCancelled
	}
	return out
}

// waitFor consumes exactly one result of a running solve, as gini demands. Most
// solves end within microseconds, so it yields for a while before it sleeps.
func waitFor(ctx context.Context, running inter.Solve) Result {
	for turn := 0; ; turn++ {
		if out, ok := running.Test(); ok {
			return Result(out)
		}
		switch {
		case ctx.Err() != nil:
			return Result(running.Stop())
		case turn < 500:
			runtime.Gosched()
		default:
			time.Sleep(100 * time.Microsecond)
		}
	}
}

// holds reports whether the literal is true in the model.
func (m *master) holds(l z.Lit) bool {
	m.need(stateSatisfied, "holds")
	return m.g.Value(l)
}

// why lists assumptions that cannot hold together; not minimal.
func (m *master) why() []z.Lit {
	m.need(stateFailed, "why")
	return m.reasons
}

func (m *master) need(want masterState, call string) {
	if m.state != want {
		panic(fmt.Sprintf("cover: %s called while %s, legal only while %s", call, stateNames[m.state], stateNames[want]))
	}
}
