package solver

import (
	"context"
	"encoding/json"
	"math"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
)

// drawQuestion is a random change of limits and preference.
func drawQuestion(r *rand.Rand, p *Problem) (Limits, Preference) {
	l := Limits{}
	some := func(most int) (ids []string) {
		for range r.IntN(most + 1) {
			ids = append(ids, p.Tubes[r.IntN(len(p.Tubes))].ID)
		}
		return ids
	}
	switch r.IntN(6) {
	case 0:
		l.Never = some(3)
	case 1:
		l.MaxTubes = 1 + r.IntN(6)
	case 2:
		l.Budget = Spend(1000 + r.IntN(6000))
	case 3:
		l.Keep, l.Own = some(1), some(3)
	case 4:
		l.Avoid = []string{[]string{"cadmium", "cobalt", "toxic", "fugitive"}[r.IntN(4)]}
	default:
		l.Only = append(some(8), p.Tubes[0].ID, p.Tubes[1].ID, p.Tubes[2].ID)
	}
	l.FewestToBuy = r.IntN(3) == 0
	if l.FewestToBuy && l.Own == nil {
		l.Own = some(4)
	}
	return l, []Preference{Accuracy, Accuracy, Price, Lightfast}[r.IntN(4)]
}

// told is everything a session says about limits, as bytes.
func told(t *testing.T, s *Session, l Limits, prefer Preference) string {
	t.Helper()
	a, err := s.Choose(context.Background(), l, prefer, nil)
	if err != nil {
		return err.Error()
	}
	a.Stats = Stats{} // how much work it was differs
	inWords(a.Needs)
	inWords(a.NeedsToBuy)
	out := []any{a}
	add := func(v any, err error) {
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, v)
	}
	best := a.Palettes[0].Tubes
	disjoint, err := s.DisjointNeeds(context.Background(), a)
	inWords(disjoint)
	add(disjoint, err)
	swaps, err := s.Swaps(context.Background(), l, best)
	add(swaps, err)
	why, err := s.Why(context.Background(), best)
	for _, reason := range why {
		for i := range reason.Targets {
			reason.Targets[i].BestDE = min(reason.Targets[i].BestDE, math.MaxFloat64)
		}
	}
	add(why, err)
	palette, missed, err := s.Check(context.Background(), best, l.Own)
	add([]any{palette, missed, s.Sensitivity(&palette)}, err)
	additions, err := s.Additions(context.Background(), best[1:], l.Own)
	add(additions, err)
	home, err := s.AtHome(context.Background(), best)
	add(home, err)
	spare, err := s.BestSpare(context.Background(), best)
	add(spare, err)
	bytes, err := json.Marshal(out)
	if err != nil {
		t.Fatal(err)
	}
	return string(bytes)
}

// inWords writes needs so that JSON can: it has no word for infinity.
func inWords(needs []Need) {
	for i := range needs {
		needs[i].BestDE = min(needs[i].BestDE, math.MaxFloat64)
	}
}

// The same question gets the same bytes, whatever was asked before in the
// session, on any number of processors.
func TestSessionForgetsItsHistory(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	answers, errors := 0, 0
	for seed := range uint64(5) {
		p := smallProblem(t, 100+seed, 14)
		p.MostPalettes = 6
		r := rand.New(rand.NewPCG(seed, 7))
		session, err := NewSession(p)
		if err != nil {
			t.Fatal(err)
		}
		for n := range 6 {
			l, prefer := drawQuestion(r, &p)
			runtime.GOMAXPROCS([]int{1, 2, 4}[n%3])
			fresh, err := NewSession(p)
			if err != nil {
				t.Fatal(err)
			}
			want := told(t, fresh, l, prefer)
			runtime.GOMAXPROCS([]int{4, 1, 2}[n%3])
			if got := told(t, session, l, prefer); got != want {
				i := 0
				for i < min(len(got), len(want)) && got[i] == want[i] {
					i++
				}
				t.Fatalf("scene %d, question %d %+v: after others %.300s\nfresh %.300s", seed, n, l, got[max(0, i-100):], want[max(0, i-100):])
			}
			if want[0] == '[' {
				answers++
			} else {
				errors++
			}
		}
	}
	t.Logf("%d answers, %d refusals", answers, errors)
	if answers < 20 {
		t.Errorf("only %d answers compared", answers)
	}
}

// Memory that is let go changes nothing, nor does a ground that is.
func TestSessionForgetsWhatItKept(t *testing.T) {
	p := smallProblem(t, 3, 12)
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	l := Limits{Never: []string{p.Tubes[3].ID}}
	first := told(t, s, l, Accuracy)
	s.choice.Grounds = nil
	if s.choice.Oracle, err = s.newOracle(); err != nil {
		t.Fatal(err)
	}
	if told(t, s, l, Accuracy) != first {
		t.Error("another answer without what was kept")
	}
}

// stopping is a context that ends when it has been asked n times.
type stopping struct {
	context.Context
	n int
}

func (s *stopping) Err() error {
	if s.n--; s.n < 0 {
		return context.Canceled
	}
	return nil
}

// Wherever a choice is cut short, what comes out is true of what was mixed by then.
func TestChoiceCutAnywhere(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	p := smallProblem(t, 4, 12)
	p.MostPalettes = 6
	cutAnywhere(t, p)
	for _, i := range []int{0, 2, 3, 7, 8} {
		p.Limits.Own = append(p.Limits.Own, p.Tubes[i].ID)
	}
	p.Limits.FewestToBuy = true
	cutAnywhere(t, p)
}

func cutAnywhere(t *testing.T, p Problem) {
	t.Helper()
	whole, err := Choose(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	none, unproved, fewer := 0, 0, 0
	cut := func(n int) bool {
		a, err := Choose(&stopping{context.Background(), n}, p, nil)
		switch {
		case err == nil:
			return false
		case err != context.Canceled:
			t.Fatal(err)
		case a == nil:
			none++
		case a.Minimum.Proof == Interrupted:
			unproved++
			if a.Minimum.AtLeast < 1 || a.Minimum.AtLeast > whole.Minimum.Tubes || a.Minimum.Tubes < whole.Minimum.Tubes && !p.Limits.FewestToBuy {
				t.Errorf("%+v of %+v", a.Minimum, whole.Minimum)
			}
		default:
			fewer++
			if a.Minimum != whole.Minimum || len(a.Palettes) < len(whole.Palettes) && !a.Capped {
				t.Errorf("%+v, %d palettes", a.Minimum, len(a.Palettes))
			}
			if !slices.Equal(a.Palettes[0].Tubes, whole.Palettes[0].Tubes) {
				t.Errorf("best %v of %v", a.Palettes[0].Tubes, whole.Palettes[0].Tubes)
			}
		}
		return true
	}
	n := 0
	for step := 1; cut(n); step = 1 + n/8 {
		n += step
	}
	for low := n - 1 - n/8; low < n; { // the first at which nothing is cut
		if mid := (low + n) / 2; cut(mid) {
			low = mid + 1
		} else {
			n = mid
		}
	}
	for at := max(0, n-40); at < n; at += 3 {
		cut(at)
	}
	t.Logf("cut: %d without, %d unproved, %d with fewer palettes", none, unproved, fewer)
	if none == 0 || unproved == 0 || fewer == 0 {
		t.Error("some way to be cut short was not met")
	}
}
