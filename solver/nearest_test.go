package solver

import (
	"context"
	"math/rand/v2"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Many colours at once against a search for each; a quick search may miss a mix at the
// very edge of reach.
func TestNearestAgainstSearches(t *testing.T) {
	names, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	p := Problem{Tubes: names.Tubes(), Surface: film.Dry, Targets: []Target{{Name: "grey", Lab: colour.Lab{L: 50}, Tolerance: 3}}}
	s, err := NewSession(p)
	if err != nil {
		t.Fatal(err)
	}
	palette := []string{"titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna"}
	held, err := s.index.find("palette", palette)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(23, 4))
	var colours []colour.Lab
	for range 800 {
		colours = append(colours, colour.Lab{L: 20 + 75*rng.Float64(), A: 20 - 40*rng.Float64(), B: 40 - 60*rng.Float64()})
	}
	const tolerance, edge = 3.0, 0.05
	got, err := s.Nearest(t.Context(), palette, colours, tolerance)
	if err != nil {
		t.Fatal(err)
	}
	within, wrong := 0, 0
	for i, c := range colours {
		if got[i].DE != colour.DE2000(got[i].Lab, c) {
			t.Errorf("%v: %v is not %v away", c, got[i].Lab, got[i].DE)
		}
		best := s.mixer.Closest(c, held, gamut.Search).DE
		if best <= tolerance {
			within++
		}
		if best <= tolerance-edge && got[i].DE > tolerance || got[i].DE < best-edge {
			wrong++
		}
	}
	if within < 100 || within > 700 || wrong > 2 {
		t.Errorf("%d of %d within reach, %d judged otherwise by a search", within, len(colours), wrong)
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := s.Nearest(ended, palette, colours, tolerance); err != context.Canceled {
		t.Error(err)
	}
	if _, err := s.Nearest(t.Context(), []string{"moon dust"}, colours, tolerance); err == nil {
		t.Error("an unknown tube is none")
	}
}
