package cover

import (
	"context"
	"math/bits"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/set"

	"github.com/go-air/gini/z"
)

// plain is the truth beside a master: clauses over at most twelve variables, bit
// i of a model being variable i.
type plain struct {
	lits    []z.Lit
	clauses []func(model uint) bool
}

func (p *plain) models(also ...func(uint) bool) (out []uint) {
next:
	for model := range uint(1) << len(p.lits) {
		for _, c := range append(p.clauses[:len(p.clauses):len(p.clauses)], also...) {
			if !c(model) {
				continue next
			}
		}
		out = append(out, model)
	}
	return out
}

// Random legal calls, clauses, counts and weighted sums mixed with questions,
// agree with every model tried by brute force; illegal ones panic.
func TestMasterAgainstBruteForce(t *testing.T) {
	const seed = 11
	t.Logf("seed %d", seed)
	r := rand.New(rand.NewPCG(seed, seed))
	results, binary := map[Result]int{}, 0
	for range 150 {
		m, p := newMaster(), &plain{}
		unit, spread := 1+r.IntN(3), []int{30, 100_000}[r.IntN(2)] // in unary, and mostly in binary
		count, weights := &counter{}, &scale{binary: adder{unit: unit}}
		var weight []int
		for range 3 + r.IntN(10) {
			l := m.lit()
			p.lits = append(p.lits, l)
			count.add(l, 1)
			weight = append(weight, unit*r.IntN(spread))
			weights.add(l, weight[len(weight)-1])
		}
		for range 30 {
			if r.IntN(3) > 0 {
				addClause(r, m, p)
				mustPanic(t, "holds", func() { m.holds(p.lits[0]) })
				mustPanic(t, "why", func() { m.why() })
				continue
			}
			results[ask(t, r, m, p, count, weights, weight)]++
		}
		if weights.taken > 0 {
			binary++
		}
	}
	t.Log(results)
	if results[Satisfied] < 100 || results[Failed] < 100 || binary < 30 || binary > 120 {
		t.Errorf("too few of a kind: %v, %d in binary", results, binary)
	}
}

func addClause(r *rand.Rand, m *master, p *plain) {
	var lits []z.Lit
	var pos, neg uint
	for range 2 + r.IntN(3) {
		i := r.IntN(len(p.lits))
		if r.IntN(2) == 0 {
			lits, pos = append(lits, p.lits[i]), pos|1<<i
		} else {
			lits, neg = append(lits, p.lits[i].Not()), neg|1<<i
		}
	}
	m.clause(lits...)
	p.clauses = append(p.clauses, func(x uint) bool { return x&pos != 0 || ^x&neg != 0 })
}

func ask(t *testing.T, r *rand.Rand, m *master, p *plain, count *counter, weights *scale, weight []int) Result {
	t.Helper()
	total := func(x uint) (sum int) {
		for i, w := range weight {
			sum += w * int(x>>i&1)
		}
		return sum
	}
	most, bound := r.IntN(len(p.lits)+1), r.IntN(total(^uint(0))+2)
	var assume []z.Lit
	if l, always := count.atMost(m, most); !always {
		assume = append(assume, l)
	}
	if l, always := weights.atMost(m, bound); !always {
		assume = append(assume, l)
	}
	i := r.IntN(len(p.lits))
	assume = append(assume, p.lits[i])
	want := p.models(func(x uint) bool {
		return bits.OnesCount(x) <= most && total(x) <= bound && x>>i&1 == 1
	})
	out := m.solve(context.Background(), assume...)
	switch {
	case (out == Satisfied) != (len(want) > 0):
		t.Fatalf("%v, but %d models by brute force (at most %d, sum %d)", out, len(want), most, bound)
	case out == Failed:
		if len(m.why()) > len(assume) {
			t.Fatalf("more reasons than assumptions")
		}
		mustPanic(t, "holds", func() { m.holds(p.lits[0]) })
		return out
	}
	var model uint
	for i, l := range p.lits {
		if m.holds(l) {
			model |= 1 << i
		}
	}
	found := false
	for _, w := range want {
		found = found || w == model
	}
	if !found {
		t.Fatalf("model %b is none (at most %d, sum at most %d)", model, most, bound)
	}
	mustPanic(t, "why", func() { m.why() })
	return out
}

func mustPanic(t *testing.T, call string, f func()) {
	t.Helper()
	defer func() {
		if recover() == nil {
			t.Fatalf("%s was let through", call)
		}
	}()
	f()
}

// An ended context cancels a solve, and the master can be used again.
func TestMasterCancelled(t *testing.T) {
	m := newMaster()
	x := m.lit()
	m.clause(x)
	ctx, cancel := context.WithCancel(context.Background())
	if out := m.solve(ctx); out != Satisfied {
		t.Fatal(out)
	}
	cancel()
	if out := m.solve(ctx); out != Cancelled || out.Err(ctx) == nil {
		t.Fatal(out)
	}
	mustPanic(t, "holds", func() { m.holds(x) })
	if out := m.solve(context.Background(), x.Not()); out != Failed {
		t.Fatal(out)
	}
}

// The seven lines of the Fano plane need three points (published; clasp and cbc
// say the same).
func TestFanoPlaneNeedsThree(t *testing.T) {
	lines := [][]int{{0, 1, 2}, {0, 3, 4}, {0, 5, 6}, {1, 3, 5}, {1, 4, 6}, {2, 3, 6}, {2, 4, 5}}
	m, count := newMaster(), &counter{}
	var points []z.Lit
	for range 7 {
		points = append(points, m.lit())
		count.add(points[len(points)-1], 1)
	}
	for _, line := range lines {
		m.clause(points[line[0]], points[line[1]], points[line[2]])
	}
	for size, want := range map[int]Result{2: Failed, 3: Satisfied} {
		l, _ := count.atMost(m, size)
		if out := m.solve(context.Background(), l); out != want {
			t.Errorf("%d points: %v", size, out)
		}
	}
}

// Weights are counted in what divides all of them.
func TestUnitOf(t *testing.T) {
	for _, c := range []struct {
		weights []int
		want    int
	}{{nil, 1}, {[]int{0, 0}, 1}, {[]int{0, 790, 1090}, 10}, {[]int{12, 18, 0, 30}, 6}, {[]int{7, 14, 9}, 1}} {
		if got := unitOf(c.weights); got != c.want {
			t.Errorf("%v: %d, want %d", c.weights, got, c.want)
		}
	}
}

// A budget buys so many members at most, and no heavier ones instead.
func TestAffordable(t *testing.T) {
	for budget, want := range map[int]int{0: 1, 789: 1, 790: 2, 1609: 2, 1610: 3, 2810: 4, 1e6: 4} {
		r := &Rules{Allowed: set.Of(5, 0, 1, 2, 4), Weights: []int{790, 0, 1200, 100, 820}, Budget: budget}
		if got := r.affordable(); got != want {
			t.Errorf("%d buys %d, want %d", budget, got, want)
		}
	}
}
