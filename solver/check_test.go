package solver

import (
	"context"
	"errors"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
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
	if got.WorstDE != got.Targets[1].DE || missed[0].Beyond {
		t.Errorf("worst %v leaves out the buoy at %v, which other tubes reach", got.WorstDE, got.Targets[1].DE)
	}
	flaws := s.choice.Flaws
	helper := s.index.place[missed[0].Helper]
	for i, tube := range p.Tubes {
		alone, _, err := s.Check(context.Background(), append([]string{tube.ID}, palette...), nil)
		if err != nil {
			t.Fatal(err)
		}
		better := flaws[i] < flaws[helper] || flaws[i] == flaws[helper] && tube.Price < p.Tubes[helper].Price
		if de := alone.Targets[1].DE; missed[0].HelpDE > 4 || de <= 4 && better {
			t.Errorf("%s brings the buoy to %v; %s brings it to %v", tube.ID, de, missed[0].Helper, missed[0].HelpDE)
		}
	}
	// None brings a stronger red within reach: then the one that comes nearest.
	p.Targets[1].Lab = colour.Lab{L: 52, A: 95, B: 70}
	if s, err = NewSession(p); err != nil {
		t.Fatal(err)
	}
	if _, missed, err = s.Check(context.Background(), palette, nil); err != nil {
		t.Fatal(err)
	}
	for _, tube := range p.Tubes {
		alone, _, err := s.Check(context.Background(), append([]string{tube.ID}, palette...), nil)
		if err != nil {
			t.Fatal(err)
		}
		if de := alone.Targets[1].DE; de < missed[0].HelpDE-0.05 {
			t.Errorf("%s brings a stronger red to %v, %s only to %v", tube.ID, de, missed[0].Helper, missed[0].HelpDE)
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

// Check and Choose mean the same by the worst difference: of the colours that all
// allowed tubes together reach, and of all.
func TestWorstMeansTheSameEverywhere(t *testing.T) {
	p := sceneProblem(t, 6, 2)
	const beyond = 2
	p.Targets[beyond].Lab = colour.Lab{L: 55, A: 95, B: 60}
	p.Prefer = Accuracy
	s, a := chosen(t, p)
	best := &a.Palettes[0]
	got, missed, err := s.Check(context.Background(), best.Tubes, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(missed) != 1 || !missed[0].Beyond || len(a.Unreachable) != 1 || !a.Unreachable[0].Beyond {
		t.Fatalf("missed %+v; %+v", missed, a.Unreachable)
	}
	worst := 0.0
	for i, o := range best.Targets {
		if i != beyond {
			worst = max(worst, o.DE)
		}
	}
	for what, q := range map[string]*Palette{"check": &got, "choose": best} {
		if q.WorstDE != worst || q.WorstOfAllDE != q.Targets[beyond].DE || q.WorstOfAllDE <= worst {
			t.Errorf("%s: worst %v, of all %v; the colours within reach come to %v, the other to %v",
				what, q.WorstDE, q.WorstOfAllDE, worst, q.Targets[beyond].DE)
		}
	}
	c, err := s.Compare(context.Background(), []Named{{"chosen", *best}, {"checked", got}})
	if err != nil || c.Reachable != 5 || c.Palettes[0].Palette.WorstDE != worst || c.Palettes[1].Palette.WorstDE != worst {
		t.Errorf("side by side: %+v, %v", c, err)
	}
}

// Of the tubes that bring a missed colour within reach, the one named brings most
// of the others too: by every tube tried alone.
func TestOneTubeForSeveralColours(t *testing.T) {
	p := sceneProblem(t, 24, 3)
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	palette := []string{"titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna", "ivory-black"}
	_, missed, err := s.Check(context.Background(), palette, nil)
	if err != nil {
		t.Fatal(err)
	}
	held, _ := s.index.find("palette", palette)
	most := map[string]int{} // per colour: how many the best of the tubes that bring it brings
	serves := map[string]int{}
	for _, i := range set.Minus(set.Full(len(p.Tubes)), held).Members() {
		with := held.Clone()
		with.Add(i)
		var brings []string
		for _, m := range missed {
			if s.mixer.Closest(p.Targets[s.targetIndex(m.Target)].Lab, with, gamut.Search).DE <= 3 {
				brings = append(brings, m.Target)
			}
		}
		serves[p.Tubes[i].ID] = len(brings)
		for _, name := range brings {
			most[name] = max(most[name], len(brings))
		}
	}
	helpers := map[string]bool{}
	for _, m := range missed {
		if n := most[m.Target]; n > 0 && (m.HelpDE > 3 || serves[m.Helper] != n) {
			t.Errorf("%s is to bring %s to %.2f and serves %d colours; another serves %d", m.Helper, m.Target, m.HelpDE, serves[m.Helper], n)
		}
		helpers[m.Helper] = true
	}
	if len(missed) < 8 || len(helpers) > 4 {
		t.Errorf("%d tubes for %d colours", len(helpers), len(missed))
	}
}
