package solver

import (
	"context"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// A dark that only a varnished mix has is said to be one, by the tubes that have
// it; a colour no paint has is not; and asked for without glare, nothing is said.
func TestVarnished(t *testing.T) {
	p := sceneProblem(t, 1, 3)
	without := film.Dry.Viewed(film.NoGlare)
	dark := func(id string) colour.Lab {
		for _, tube := range p.Tubes {
			if tube.ID == id {
				seen := tube.Paint.Masstone(without)
				return colour.D65().Lab(&seen)
			}
		}
		t.Fatal(id)
		return colour.Lab{}
	}
	p.Targets = append(p.Targets,
		Target{Name: "blue", Lab: dark("prussian-blue"), Area: 1, Tolerance: 2},
		Target{Name: "black", Lab: dark("ivory-black"), Area: 1, Tolerance: 2},
		Target{Name: "neon", Lab: colour.Lab{L: 90, A: -90, B: 90}, Area: 1, Tolerance: 2})
	palette := []string{"titanium-white", "yellow-ochre", "prussian-blue"}
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	_, missed, err := s.Check(context.Background(), palette, nil)
	if err != nil {
		t.Fatal(err)
	}
	got, err := s.Varnished(context.Background(), Limits{}, palette, missed)
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]Varnished{}
	for _, v := range got {
		found[v.Target] = v
	}
	if v, ok := found["blue"]; !ok || !v.Palette || v.DE > 0.01 {
		t.Errorf("blue: %+v", v)
	}
	if v, ok := found["black"]; !ok || v.Palette || v.DE > 0.01 {
		t.Errorf("black: %+v", v)
	}
	if v, ok := found["neon"]; ok {
		t.Errorf("neon: %+v", v)
	}

	p.Surface = without
	if s, err = NewSession(p); err != nil {
		t.Fatal(err)
	}
	kept, _, err := s.Check(context.Background(), palette, nil)
	if err != nil || !kept.Targets[1].Reached {
		t.Errorf("seen without glare the palette misses its own masstone: %+v, %v", kept.Targets[1], err)
	}
	if got, err = s.Varnished(context.Background(), Limits{}, palette, missed); err != nil || len(got) > 0 {
		t.Errorf("without glare: %+v, %v", got, err)
	}
}
