package solver

import (
	"context"
	"errors"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// The oracle of the check is the catalogue tried one tube at a time with the
// mixer's own closest mix.
func TestCheckNamesTheBestHelper(t *testing.T) {
	names, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	p := Problem{
		Tubes: names.Tubes(),
		Targets: []Target{
			{Name: "wet mud", Lab: colour.Lab{L: 40, A: 4, B: 12}, Area: 1, Tolerance: 4},
			{Name: "buoy", Lab: colour.Lab{L: 52, A: 62, B: 48}, Area: 1, Tolerance: 4},
		},
		Surface: film.Dry,
	}
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	palette := []string{"titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna"}
	got, missed, err := s.Check(context.Background(), palette, palette[:1])
	if err != nil {
		t.Fatal(err)
	}
	if got.Targets[0].DE > 4 || len(missed) != 1 || missed[0].Target != "buoy" || missed[0].BestDE != got.Targets[1].DE {
		t.Fatalf("mud at %v, missed %+v", got.Targets[0].DE, missed)
	}
	if got.WorstDE != got.Targets[1].DE {
		t.Errorf("worst %v leaves out the buoy at %v", got.WorstDE, got.Targets[1].DE)
	}
	for _, tube := range p.Tubes {
		alone, _, err := s.Check(context.Background(), append([]string{tube.ID}, palette...), nil)
		if err != nil {
			t.Fatal(err)
		}
		if de := alone.Targets[1].DE; de < missed[0].HelpDE-0.05 {
			t.Errorf("%s brings the buoy to %v, %s only to %v", tube.ID, de, missed[0].Helper, missed[0].HelpDE)
		}
	}
	var unknown *catalog.UnknownTube
	if _, _, err := s.Check(context.Background(), []string{"red"}, nil); !errors.As(err, &unknown) {
		t.Errorf("an unknown tube gives %v", err)
	}
	if _, _, err := s.Check(context.Background(), nil, nil); !errors.As(err, new(*InputError)) {
		t.Errorf("no tube gives %v", err)
	}
}
