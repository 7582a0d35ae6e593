package solver

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"fewtubes/gamut/colour"
)

// Colours that whole parts meet exactly: a mix measured freely, though a search for it
// ends as soon as it is near enough, is no farther off than the parts beside it.
func TestPartsAreNeverNearerThanTheMix(t *testing.T) {
	p := sceneProblem(t, 1, 1.5)
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	palette := []string{"titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna"}
	p.Targets = nil
	for i := range 24 {
		parts := []Share{{palette[i%4], float64(1 + i%3)}, {palette[(i+1+i%2)%4], float64(2 + i%5)}}
		p.Targets = append(p.Targets, Target{Name: fmt.Sprint(i), Lab: seen(&s.problem, s.tube, parts), Tolerance: 2})
	}
	if s, err = NewSession(p); err != nil {
		t.Fatal(err)
	}
	mixed, _, err := s.Check(context.Background(), palette, nil)
	if err != nil {
		t.Fatal(err)
	}
	exactly := 0
	for _, o := range mixed.Targets {
		if o.DE > o.PartsDE+1e-9 {
			t.Errorf("%s: %v freely at %g, %v at %g", o.Target, o.Shares, o.DE, o.Parts, o.PartsDE)
		}
		if o.PartsDE < 1e-6 {
			exactly++
		}
		if d := colour.DE2000(seen(&s.problem, s.tube, o.Shares), o.Lab); d > o.DE+1e-9 {
			t.Errorf("%s: said to be at %g, is at %g", o.Target, o.DE, d)
		}
	}
	if exactly < 12 {
		t.Errorf("only %d met exactly", exactly)
	}
}

// An answer whose parts are nearer than its mix does not leave, true as its figures may
// be.
func TestPartsNearerThanTheMixAreHeldBack(t *testing.T) {
	p := sceneProblem(t, 1, 5)
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	palette := Palette{Tubes: []string{"titanium-white", "yellow-ochre"}}
	even, uneven := []Share{{palette.Tubes[0], 0.5}, {palette.Tubes[1], 0.5}}, []Share{{palette.Tubes[0], 0.6}, {palette.Tubes[1], 0.4}}
	target := Target{Lab: seen(&s.problem, s.tube, even), Tolerance: 50}
	o := Outcome{Shares: uneven, Parts: []Part{{palette.Tubes[0], 1}, {palette.Tubes[1], 1}}, Reached: true}
	o.DE = colour.DE2000(seen(&s.problem, s.tube, uneven), target.Lab)
	if err := s.verifyOutcome(&palette, &o, &target, nil); err == nil || !strings.Contains(err.Error(), "nearer") {
		t.Errorf("parts at 0, the mix at %g: %v", o.DE, err)
	}
	o.Shares, o.DE = even, 0
	if err := s.verifyOutcome(&palette, &o, &target, nil); err != nil {
		t.Error(err)
	}
}
