package solver

import (
	"context"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
)

// weakeningOf is that of the small scene's answer.
func weakeningOf(t *testing.T) (*weakening, *Answer, *Problem) {
	t.Helper()
	p := smallScene(t)
	s, a := chosen(t, p)
	r, err := s.index.rules(&p.Limits)
	if err != nil {
		t.Fatal(err)
	}
	prover, err := s.newProver(context.Background(), 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	w, err := newWeakening(prover, r, a)
	if err != nil {
		t.Fatal(err)
	}
	return w, a, &p
}

// Needs made to ask for less, in whatever order, have failing sets within those
// they had, no tube more can be taken out of the last, and no palette of fewer
// tubes than the minimum meets them all: each of these is asked by brute force.
func TestWeakerNeedsProveTheSameMinimum(t *testing.T) {
	slimmer := 0
	for order := range uint64(6) {
		w, a, p := weakeningOf(t)
		last := 0
		for i := range w.now {
			last = (i + int(order)) % len(w.now)
			w.weaken(last, order)
		}
		for i := range w.now {
			if !w.first[i].SubsetOf(w.now[i]) {
				t.Errorf("order %d, need %d: %v had to be asked for, %v is", order, i, w.first[i].Members(), w.now[i].Members())
			}
			slimmer += w.now[i].Len() - w.first[i].Len()
		}
		if palette := w.unmet(len(p.Tubes), a.Minimum.Tubes); palette != nil {
			t.Errorf("order %d: %v meets all needs", order, w.s.index.ids(palette))
		}
		for _, tube := range set.Minus(w.allowed, w.now[last]).Members() {
			if order == 0 {
				break // that stops where a need is ample
			}
			w.now[last].Add(tube)
			if w.unmet(len(p.Tubes), a.Minimum.Tubes) == nil {
				t.Errorf("order %d, need %d: %s could be taken out", order, last, w.s.index.tubes[tube].ID)
			}
			w.now[last].Remove(tube)
		}
	}
	if slimmer == 0 {
		t.Error("no need asks for less than before")
	}
}

// unmet is a palette of fewer tubes than size that meets every need, or nil.
func (w *weakening) unmet(tubes, size int) set.Set {
	allowed := w.allowed.Members()
next:
	for bits := range 1 << len(allowed) {
		palette := set.New(tubes)
		for i, tube := range allowed {
			if bits>>i&1 == 1 {
				palette.Add(tube)
			}
		}
		if palette.Len() >= size {
			continue
		}
		for _, oneOf := range w.now {
			if !oneOf.Meets(palette) {
				continue next
			}
		}
		return palette
	}
	return nil
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
	if _, err := s.Certify(context.Background(), p.Limits, a, scarce, nil); err != nil {
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
