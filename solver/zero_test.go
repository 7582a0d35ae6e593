package solver

import (
	"context"
	"errors"
	"reflect"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Zero values are what a painter who says nothing means: no limit, the surface
// of the catalogue, daylight.
func TestZeroValues(t *testing.T) {
	p := sceneProblem(t, 4, 3)
	p.Surface, p.Light, p.Limits, p.Prefer = film.Surface{}, nil, Limits{}, ""
	unsaid, err := Choose(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	p.Surface, p.Light, p.Prefer = film.Dry, colour.D65(), Usual
	said, err := Choose(context.Background(), p, nil)
	if err != nil {
		t.Fatal(err)
	}
	unsaid.behind, said.behind = nil, nil
	unsaid.Stats, said.Stats = Stats{}, Stats{}
	if unsaid.Status != AllReached || !reflect.DeepEqual(unsaid, said) {
		t.Errorf("left out, the answer is %s with %d tubes; spelled out, %s with %d",
			unsaid.Status, unsaid.Minimum.Tubes, said.Status, said.Minimum.Tubes)
	}
	p.Limits.Budget = Spend(1e9)
	if rich, err := Choose(context.Background(), p, nil); err != nil || !reflect.DeepEqual(rich.Palettes[0], said.Palettes[0]) {
		t.Errorf("with money for everything: %v", err)
	}
	p.Limits.Budget = Spend(0)
	if _, err := Choose(context.Background(), p, nil); !errors.As(err, new(*ContradictionError)) {
		t.Errorf("nothing to spend and nothing owned: %v", err)
	}
	p.Limits.Own = said.Palettes[0].Tubes
	if a, err := Choose(context.Background(), p, nil); err != nil || a.Palettes[0].Price != 0 {
		t.Errorf("nothing to spend, all owned: %v", err)
	}
}

// Questions about nothing are answered or refused, without a panic.
func TestQuestionsAboutNothing(t *testing.T) {
	s, err := NewSession(sceneProblem(t, 2, 3))
	if err != nil {
		t.Fatal(err)
	}
	ctx := context.Background()
	for what, ask := range map[string]func() error{
		"compare none":     func() error { _, err := s.Compare(ctx, nil); return err },
		"compare no mixes": func() error { _, err := s.Compare(ctx, []Named{{}}); return err },
		"check none":       func() error { _, _, err := s.Check(ctx, nil, nil); return err },
	} {
		if err := ask(); !errors.As(err, new(*InputError)) {
			t.Errorf("%s: %v", what, err)
		}
	}
	for what, ask := range map[string]func() error{
		"why":      func() error { _, err := s.Why(ctx, nil); return err },
		"swaps":    func() error { _, err := s.Swaps(ctx, Limits{}, nil); return err },
		"add":      func() error { _, err := s.Additions(ctx, nil, nil); return err },
		"at home":  func() error { _, err := s.AtHome(ctx, nil); return err },
		"spare":    func() error { _, err := s.BestSpare(ctx, nil); return err },
		"disjoint": func() error { _, err := s.DisjointNeeds(ctx, &Answer{}); return err },
		"certify":  func() error { _, err := s.Certify(ctx, &Answer{}, 0, nil); return err },
		"misses":   func() error { _, err := s.CertifyMisses(ctx, nil, nil, 0, nil); return err },
	} {
		if err := ask(); err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
}
