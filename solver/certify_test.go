package solver

import (
	"bytes"
	"context"
	"slices"
	"strings"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// smallScene asks seven tubes for three colours, one of them beyond all seven.
func smallScene(t *testing.T) Problem {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return Problem{
		Tubes: all.Tubes(),
		Targets: []Target{
			{Name: "far shore", Lab: colour.Lab{L: 62, A: 0.5, B: -9}, Area: 3, Tolerance: 2},
			{Name: "green flats", Lab: colour.Lab{L: 50, A: -12, B: 24}, Area: 9, Tolerance: 2},
			{Name: "buoy", Lab: colour.Lab{L: 55, A: 75, B: 60}, Area: 1, Tolerance: 2},
		},
		Limits: Limits{Only: []string{
			"titanium-white", "yellow-ochre", "hansa-yellow-medium", "ultramarine-blue", "phthalo-green-blue-shade", "burnt-sienna", "ivory-black",
		}},
		Surface: film.Dry,
		Prefer:  Accuracy,
	}
}

// chosen is a session and its answer under the problem's own limits and preference.
func chosen(t testing.TB, p Problem) (*Session, *Answer) {
	t.Helper()
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	a, err := s.Choose(context.Background(), p.Limits, p.Prefer, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s, a
}

func TestCertify(t *testing.T) {
	p := smallScene(t)
	s, a := chosen(t, p)
	disjoint, err := s.DisjointNeeds(context.Background(), a)
	if err != nil || len(disjoint) == 0 {
		t.Fatal(disjoint, err)
	}
	told := 0
	proofs, err := s.Certify(context.Background(), a, 0, func(done, all int) { told = all - done })
	if err != nil {
		t.Fatal(err)
	}
	if a.Minimum.Proof != Certified || len(a.Unreachable) != 1 || a.Unreachable[0].Proof != Certified || told != 0 {
		t.Fatalf("minimum %q, out of reach %+v, %d left", a.Minimum.Proof, a.Unreachable, told)
	}
	for _, n := range disjoint {
		if n.Proof != Certified {
			t.Errorf("the need of %s was told before it was certified, and stays %q", n.Target, n.Proof)
		}
	}
	if len(proofs) != len(a.Needs)+1 {
		t.Fatalf("%d proofs for %d needs and one colour out of reach", len(proofs), len(a.Needs))
	}
	for _, proof := range proofs {
		var text bytes.Buffer
		if err := proof.Certificate.Write(&text); err != nil {
			t.Fatal(err)
		}
		read, err := check.Read(&text)
		if err != nil {
			t.Fatal(err)
		}
		if err := read.Verify(context.Background()); err != nil {
			t.Errorf("%s without %v: %v", proof.Target, proof.Without, err)
		}
		if want := len(p.Limits.Only) - len(proof.Without); len(read.Paints) != want {
			t.Errorf("%s without %v: a proof about %d paints, want %d", proof.Target, proof.Without, len(read.Paints), want)
		}
	}
}

// A colour out of reach only because a mix may hold one paint is no theorem
// about mixing, and must stay a verdict of the search.
func TestCertifyLeavesTheMixLimitToTheSearch(t *testing.T) {
	p := smallScene(t)
	p.PaintsPerMix = 1
	s, a := chosen(t, p)
	if _, err := s.Certify(context.Background(), a, 0, nil); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{"far shore": Searched, "green flats": Searched, "buoy": Certified}
	for _, m := range a.Unreachable {
		if m.Proof != want[m.Target] {
			t.Errorf("%s: proof %q, want %q", m.Target, m.Proof, want[m.Target])
		}
		if told := strings.HasPrefix(m.Unsettled, "only the limit of 1 paints in a mix"); told != (m.Proof == Searched) {
			t.Errorf("%s, %s: %q", m.Target, m.Proof, m.Unsettled)
		}
	}
	if len(a.Unreachable) != len(want) {
		t.Errorf("%d colours out of reach, want %d", len(a.Unreachable), len(want))
	}
}

func TestCertifyStopsWhenAsked(t *testing.T) {
	p := smallScene(t)
	s, a := chosen(t, p)
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if proofs, err := s.Certify(ctx, a, 0, nil); err == nil || len(proofs) > 0 || a.Minimum.Proof != Searched {
		t.Errorf("%d proofs, error %v, minimum %q after a stop", len(proofs), err, a.Minimum.Proof)
	}
}

// The colours within a wide tolerance of a light yellow could not be bounded
// when this was written; where a bound is found one day, another colour will do.
func TestWhatCannotBeBoundedStaysSearched(t *testing.T) {
	p := smallScene(t)
	p.Targets = []Target{{Name: "lit edge", Lab: colour.Lab{L: 95, B: 5}, Area: 1, Tolerance: 20}}
	p.Limits.Only = []string{"ivory-black", "yellow-ochre"}
	s, a := chosen(t, p)
	if _, err := s.Certify(context.Background(), a, 0, nil); err != nil {
		t.Fatal(err)
	}
	if m := a.Unreachable[0]; m.Proof != Searched || !strings.Contains(m.Unsettled, "too wide") {
		t.Errorf("%q, %q", m.Proof, m.Unsettled)
	}
	p.Targets[0].Lab.L = 101
	s, a = chosen(t, p)
	if _, err := s.Certify(context.Background(), a, 0, nil); err != nil {
		t.Fatal(err)
	}
	if m := a.Unreachable[0]; m.Proof != Searched || m.Unsettled == "" {
		t.Errorf("no colour of a surface: %q, %q", m.Proof, m.Unsettled)
	}
}

// A need whose proof is given up is asked for less, and tried with what is left of
// the budget; one that cannot ask for less gets all of it.
func TestGivenUpNeedsAreMadeToAskForLess(t *testing.T) {
	p := smallScene(t)
	p.Limits.Only, p.Targets = nil, p.Targets[:2]
	p.Targets[0].Lab = colour.Lab{L: 70, A: -4, B: -16} // three needs, one of them hard
	s, a := chosen(t, p)
	before := slices.Clone(a.Needs)
	const scarce = 30 // cells, half of them to begin with: one of the three needs wants more
	if _, err := s.Certify(context.Background(), a, scarce, nil); err != nil {
		t.Fatal(err)
	}
	less, full := 0, 0
	for i, n := range a.Needs {
		t.Logf("%s: one of %d, was %d; %s %s", n.Target, len(n.OneOf), len(before[i].OneOf), n.Proof, n.Unsettled)
		if len(n.OneOf) > len(before[i].OneOf) {
			less++
		} else if n.Proof == Certified {
			full++
		}
	}
	if less != 1 || full != 2 {
		t.Errorf("%d needs ask for less, %d are certified as they were", less, full)
	}
}
