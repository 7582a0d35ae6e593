package certify

import (
	"context"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
)

// smallMinimum is the smallest palette of seven tubes for two colours.
func smallMinimum(t *testing.T) (*Subject, *choice.Core, *choice.Decision, []catalog.Tube) {
	t.Helper()
	tubes := builtin(t)
	s := subject(t, tubes, []colour.Lab{{L: 62, A: 0.5, B: -9}, {L: 50, A: -12, B: 24}}, 2)
	seven := set.New(len(tubes))
	for i := range tubes {
		if slices.Contains([]string{"titanium-white", "yellow-ochre", "hansa-yellow-medium", "ultramarine-blue", "phthalo-green-blue-shade", "burnt-sienna", "ivory-black"}, tubes[i].ID) {
			seven.Add(i)
		}
	}
	w := &choice.Wish{Limits: []choice.Limit{{Kind: choice.Only, Tubes: seven}}, Prices: s.Prices, Most: 1}
	known, d, err := (&choice.Chooser{Stakes: s.Stakes}).Decide(context.Background(), w)
	if err != nil {
		t.Fatal(err)
	}
	return s, known, d, tubes
}

// Needs with more to spare may take the place of others, as long as no palette of
// fewer tubes meets them all.
func TestWiderNeedsProveTheSameMinimum(t *testing.T) {
	s, known, d, _ := smallMinimum(t)
	needs := slices.Clone(d.Needs)
	for i := range needs { // as if they were narrow: the search begins at its own width
		needs[i].Best = s.Tolerance[0] + 0.01
	}
	wider, err := s.Wider(context.Background(), known, d.Rules, d.Size, needs, nil)
	if err != nil {
		t.Fatal(err)
	}
	if s.narrowest(wider) < 0.05 {
		t.Errorf("the narrowest need has %.3f to spare", s.narrowest(wider))
	}
	var asked []set.Set
	for _, n := range wider {
		asked = append(asked, n.OneOf)
	}
	if palette := unmet(d.Rules.Allowed, asked, d.Size); palette != nil {
		t.Errorf("%v meets all needs", palette.Members())
	}
}

// Needs made to ask for less, in whatever order, have failing sets within those
// they had, no tube more can be taken out of the last, and no palette of fewer
// tubes than the minimum meets them all: each of these is asked by brute force.
func TestWeakerNeedsProveTheSameMinimum(t *testing.T) {
	slimmer := 0
	for order := range uint64(6) {
		s, _, d, tubes := smallMinimum(t)
		prover, err := s.newProver(context.Background(), 0, nil)
		if err != nil {
			t.Fatal(err)
		}
		w := newWeakening(prover, d.Rules, d.Size, d.Needs)
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
		if palette := unmet(w.allowed, w.now, d.Size); palette != nil {
			t.Errorf("order %d: %v meets all needs", order, palette.Members())
		}
		for _, tube := range set.Minus(w.allowed, w.now[last]).Members() {
			if order == 0 {
				break // that stops where a need is ample
			}
			w.now[last].Add(tube)
			if unmet(w.allowed, w.now, d.Size) == nil {
				t.Errorf("order %d, need %d: %s could be taken out", order, last, tubes[tube].ID)
			}
			w.now[last].Remove(tube)
		}
	}
	if slimmer == 0 {
		t.Error("no need asks for less than before")
	}
}

// unmet is a palette of fewer tubes than size that meets every need, or nil.
func unmet(allowed set.Set, needs []set.Set, size int) set.Set {
	tubes := allowed.Members()
next:
	for bits := range 1 << len(tubes) {
		palette := set.Minus(allowed, allowed)
		for i, tube := range tubes {
			if bits>>i&1 == 1 {
				palette.Add(tube)
			}
		}
		if palette.Len() >= size {
			continue
		}
		for _, oneOf := range needs {
			if !oneOf.Meets(palette) {
				continue next
			}
		}
		return palette
	}
	return nil
}
