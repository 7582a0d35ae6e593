package solver

import (
	"context"
	"encoding/json"
	"runtime"
	"strings"
	"testing"
)

// answerBytes is everything in an answer.
func answerBytes(t testing.TB, a *Answer) string {
	t.Helper()
	out, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// The same problem gives the same bytes, on one processor or on several.
func TestChooseIsDeterministic(t *testing.T) {
	p := sceneProblem(t, 10, 1.5)
	p.MostPalettes, p.MaxPartsTotal = 12, 8
	var first string
	for _, procs := range []int{1, 4, 2} {
		old := runtime.GOMAXPROCS(procs)
		a, err := Choose(context.Background(), p, nil)
		runtime.GOMAXPROCS(old)
		if err != nil {
			t.Fatal(err)
		}
		got := answerBytes(t, a)
		if first == "" {
			first = got
		}
		if got != first {
			t.Fatalf("on %d processors the answer differs", procs)
		}
	}
}

// Progress narrows from both sides and ends at the minimum.
func TestProgressBoundsTheMinimum(t *testing.T) {
	p := sceneProblem(t, 10, 1.5)
	p.MostPalettes, p.MaxPartsTotal = 1, 4
	var seen []Progress
	a, err := Choose(context.Background(), p, func(x Progress) { seen = append(seen, x) })
	if err != nil {
		t.Fatal(err)
	}
	for i, x := range seen {
		if x.AtLeast > a.Minimum.Tubes || x.AtMost > 0 && x.AtMost < a.Minimum.Tubes {
			t.Errorf("step %d: %+v, minimum %d", i, x, a.Minimum.Tubes)
		}
		if i > 0 && (x.AtLeast < seen[i-1].AtLeast || x.Searches < seen[i-1].Searches) {
			t.Errorf("step %d went back: %+v", i, x)
		}
	}
	if last := seen[len(seen)-1]; last.AtMost != a.Minimum.Tubes || last.AtLeast != a.Minimum.Tubes {
		t.Errorf("ended at %+v, minimum %d", last, a.Minimum.Tubes)
	}
}

// A choice cut short gives the best palette so far and says so.
func TestChooseInterrupted(t *testing.T) {
	p := sceneProblem(t, 12, 1.5)
	p.MaxPartsTotal = 4
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	a, err := Choose(ctx, p, func(x Progress) {
		if x.AtMost > 0 {
			cancel()
		}
	})
	if err != context.Canceled || a == nil {
		t.Fatalf("%v, %v", a, err)
	}
	m := a.Minimum
	if m.Proof != Interrupted || m.AtLeast < 1 || m.AtLeast > m.Tubes || len(a.Palettes) != 1 || len(a.Palettes[0].Tubes) != m.Tubes {
		t.Errorf("%+v", m)
	}
	for _, o := range a.Palettes[0].Targets {
		if !o.Reached {
			t.Errorf("%s is not reached", o.Target)
		}
	}
	cancelled, stop := context.WithCancel(context.Background())
	stop()
	if a, err := Choose(cancelled, p, nil); a != nil || err == nil {
		t.Errorf("%v, %v", a, err)
	}
}

// Limits that rule out full reach are named, none too many, and the palette
// keeps them; without any of them everything is reached.
func TestConflictIsNamed(t *testing.T) {
	p := sceneProblem(t, 8, 1.5)
	p.MostPalettes, p.MaxPartsTotal = 1, 6
	free, err := Choose(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	p.Limits.MaxTubes = free.Minimum.Tubes - 1
	p.Limits.Keep = []string{"titanium-white"}
	p.Limits.Budget = Spend(100000)
	a, err := Choose(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if a.Status != SomeMissed || len(a.Missed) == 0 || len(a.Conflict) != 1 || a.Conflict[0].Kind != MostTubes || a.Conflict[0].Most != p.Limits.MaxTubes {
		t.Errorf("%s, missed %v, conflict %q", a.Status, a.Missed, a.Conflict)
	}
	for _, m := range a.Missed {
		if m.Words == "" || m.BestDE <= 1.5 {
			t.Errorf("%+v", m)
		}
		if m.Helper != "" && m.HelpDE >= m.BestDE {
			t.Errorf("%s does not help %s", m.Helper, m.Target)
		}
	}
}

// A colour that only a banned tube can bring near is named with that tube.
func TestUnreachableNamesTheTubeItLacks(t *testing.T) {
	p := sceneProblem(t, 4, 1.5)
	p.MostPalettes, p.MaxPartsTotal = 1, 6
	p.Limits.Only = []string{"burnt-sienna", "ultramarine-blue", "yellow-ochre"}
	a, err := Choose(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Unreachable) == 0 {
		t.Fatal("three dark tubes reach a pale sky")
	}
	for _, m := range a.Unreachable {
		if m.Target == "c02" && (!strings.Contains(m.Words, "too dark") || m.Helper == "") {
			t.Errorf("%+v", m)
		}
	}
	if a.Minimum.Tubes < 1 || a.Minimum.Tubes > 3 {
		t.Errorf("%+v", a.Minimum)
	}
}

func BenchmarkChoose(b *testing.B) {
	p := sceneProblem(b, 20, 1.5)
	p.MostPalettes = 10
	for b.Loop() {
		if _, err := Choose(context.Background(), p, nil); err != nil {
			b.Fatal(err)
		}
	}
}
