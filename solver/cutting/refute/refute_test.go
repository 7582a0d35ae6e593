package refute_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"fewtubes/solver/cutting"
	"fewtubes/solver/cutting/refute"
)

// cover asks for one of some variables, needs by need, and at most so many of all.
func cover(variables, most int, needs ...[]int) *cutting.Formula {
	f := &cutting.Formula{Variables: variables}
	for _, need := range needs {
		c := cutting.Constraint{AtLeast: 1}
		for _, v := range need {
			c.Terms = append(c.Terms, cutting.Term{Times: 1, Variable: v})
		}
		f.Constraints = append(f.Constraints, c)
	}
	bound := cutting.Constraint{AtLeast: -most}
	for v := 1; v <= variables; v++ {
		bound.Terms = append(bound.Terms, cutting.Term{Times: -1, Variable: v})
	}
	f.Constraints = append(f.Constraints, bound)
	return f
}

func verify(f *cutting.Formula, proof cutting.Refutation) error {
	var text bytes.Buffer
	if err := proof.Write(&text, len(f.Constraints)); err != nil {
		return err
	}
	return f.Verify(context.Background(), &text)
}

// The lines of the Fano plane (seven points, three on each line, two lines meet in
// one point) are met by three points, a line, and by no two: every line meets every
// other. The fraction is 7/3: no point lies on more than three of the seven.
func TestFanoPlane(t *testing.T) {
	lines := [][]int{{1, 2, 3}, {1, 4, 5}, {1, 6, 7}, {2, 4, 6}, {2, 5, 7}, {3, 4, 7}, {3, 5, 6}}
	two := cover(7, 2, lines...)
	m, err := refute.Count(context.Background(), two)
	if err != nil || fmt.Sprint(*m) != "{[1 1 1 1 1 1 1] 3 7}" {
		t.Errorf("%+v, %v", m, err)
	}
	if _, err := refute.Find(context.Background(), cover(7, 3, lines...), 100); !errors.Is(err, refute.ErrKept) {
		t.Errorf("three points: %v", err)
	}
}

// Half of each of five things meets every pair of them and comes to 2.5, where whole
// things come to 4: trials are needed.
func TestTrials(t *testing.T) {
	var pairs [][]int
	for i := 1; i <= 5; i++ {
		for j := i + 1; j <= 5; j++ {
			pairs = append(pairs, []int{i, j})
		}
	}
	f := cover(5, 3, pairs...)
	if m, err := refute.Count(context.Background(), f); m != nil || err != nil {
		t.Errorf("one line: %+v, %v", m, err)
	}
	proof, err := refute.Find(context.Background(), f, 100)
	if err != nil {
		t.Fatal(err)
	}
	if err := verify(f, proof); err != nil || len(proof) < 3 {
		t.Errorf("%q: %v", proof, err)
	}
	if _, err := refute.Find(context.Background(), f, 2); !errors.Is(err, refute.ErrGivenUp) {
		t.Errorf("two lines: %v", err)
	}
}

// Every seeded formula with needs, a budget, tubes to keep and groups is refuted with a
// proof that the checker takes, or kept, as brute force says.
func TestFindAgainstBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(26, 4))
	counts := map[string]int{}
	for range 800 {
		f := drawn(rng)
		kept := false
		for bits := range 1 << f.Variables {
			kept = kept || f.Keeps(func(v int) bool { return bits>>(v-1)&1 == 1 })
		}
		proof, err := refute.Find(context.Background(), f, 10_000)
		switch {
		case kept && errors.Is(err, refute.ErrKept):
			counts["kept"]++
		case !kept && err == nil && len(proof) == 1:
			counts["one line"]++
		case !kept && err == nil:
			counts["trials"]++
		default:
			t.Fatalf("kept %v, found %q, %v: %+v", kept, proof, err, f)
		}
		if err == nil {
			if err := verify(f, proof); err != nil {
				t.Fatalf("%v\n%s", err, strings.Join(proof, "\n"))
			}
		}
	}
	t.Log(counts)
	for _, what := range []string{"kept", "one line", "trials"} {
		if counts[what] < 10 {
			t.Errorf("%d: %s", counts[what], what)
		}
	}
}

func drawn(rng *rand.Rand) *cutting.Formula {
	n := 4 + rng.IntN(8)
	var needs [][]int
	for range 2 + rng.IntN(25) {
		needs = append(needs, rng.Perm(n)[:2+rng.IntN(2)])
		for i := range needs[len(needs)-1] {
			needs[len(needs)-1][i]++
		}
	}
	f := cover(n, 2+rng.IntN(n/2+1), needs...)
	last := f.Constraints[len(f.Constraints)-1]
	f.Constraints = f.Constraints[:len(f.Constraints)-1]
	sum := func(atLeast int, times func() int, variables ...int) {
		c := cutting.Constraint{AtLeast: atLeast}
		for _, v := range variables {
			if n := times(); n != 0 {
				c.Terms = append(c.Terms, cutting.Term{Times: n, Variable: v + 1})
			}
		}
		f.Constraints = append(f.Constraints, c)
	}
	if rng.IntN(2) == 0 {
		sum(-(500 + rng.IntN(2500)), func() int { return -rng.IntN(1500) }, rng.Perm(n)...)
	}
	if rng.IntN(3) == 0 {
		sum(1, func() int { return 1 }, rng.IntN(n))
	}
	if rng.IntN(3) == 0 {
		sum(-1, func() int { return -1 }, rng.Perm(n)[:2+rng.IntN(2)]...)
	}
	f.Constraints = append(f.Constraints, last)
	return f
}
