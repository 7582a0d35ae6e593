package gamut

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
)

func TestRecipesAreUsefulAndOrdered(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(51, 52))
	for range 60 {
		p := randomPalette(m.Len(), 4, 8, rng)
		target := randomMix(m, FullSet(m.Len()).Members(), rng)
		list := m.Recipes(target, SetOf(m.Len(), p...), 20, 5)
		if len(list) == 0 || len(list) > 5 {
			t.Fatalf("%d recipes", len(list))
		}
		for i, r := range list {
			if got := m.Evaluate(r.Paints, floats(r.Parts)); got != r.Lab {
				t.Errorf("%+v evaluates to %v", r, got)
			}
			for j, other := range list {
				if i != j && within(other.Paints, r.Paints) && other.DE <= r.DE {
					t.Errorf("%+v is no better than %+v", r, other)
				}
			}
			if i > 0 && len(r.Paints) < len(list[i-1].Paints) {
				t.Errorf("%v before %v", list[i-1], r)
			}
		}
	}
}

// A painter's order: white and earth colours first, phthalocyanine last.
func TestMixingOrderAndStrength(t *testing.T) {
	names, _ := acrylics(t)
	m := acrylicMixer(t)
	p := named(t, names, "phthalo blue green shade", "titanium white", "cadmium orange")
	blue, white, orange := p[0], p[1], p[2]
	steps := m.MixingOrder([]int{blue, orange, white}, []float64{1, 2, 10})
	if steps[0].Paint != white || steps[2].Paint != blue {
		t.Errorf("order %+v", steps)
	}
	// Of two paints the one that moves a pile more is always the lesser one,
	// since only ratios count.
	two := m.MixingOrder([]int{blue, orange}, []float64{1, 3})
	if two[0].Paint != orange {
		t.Errorf("order %+v", two)
	}
	// Phthalocyanine blue is "many times" stronger than ultramarine or cobalt
	// (common practice, no source).
	strength := func(name string) float64 { return m.TintingStrength(named(t, names, name)[0], white) }
	phthalo, ultramarine, cobalt := strength("phthalo blue green shade"), strength("ultramarine blue"), strength("cobalt blue")
	t.Logf("volumes of white: phthalo %.0f, ultramarine %.0f, cobalt %.0f", phthalo, ultramarine, cobalt)
	if phthalo < 3*ultramarine || phthalo < 3*cobalt {
		t.Error("phthalo blue is not the strongest")
	}
	if s := m.TintingStrength(white, white); s != 0 {
		t.Errorf("white tints white by %g", s)
	}
}

func TestTintLadder(t *testing.T) {
	names, _ := acrylics(t)
	m := acrylicMixer(t)
	p := named(t, names, "ultramarine blue", "cadmium orange", "titanium white")
	ladder := m.TintLadder(p[:2], []float64{3, 1}, p[2], 5)
	if len(ladder) != 6 || ladder[0].Lab != m.Evaluate(p[:2], []float64{3, 1}) {
		t.Fatalf("ladder %+v", ladder)
	}
	for i := 1; i < len(ladder); i++ {
		if ladder[i].Lab.L <= ladder[i-1].Lab.L {
			t.Errorf("white darkens: %+v", ladder)
		}
	}
	if want := m.Evaluate(p, []float64{3, 1, 16}); colour.DE2000(want, ladder[3].Lab) > 1e-9 {
		t.Errorf("%v, want %v", ladder[3], want)
	}
}
