package gamut

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

func TestRecipesAreUsefulAndOrdered(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(51, 52))
	for range 60 {
		p := samples.Palette(m.Len(), 4, 8, rng)
		target := samples.Mix(m, set.Full(m.Len()).Members(), rng)
		list := m.Recipes(target, set.Of(m.Len(), p...), 20, 5)
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

// What is worth showing: a recipe stays when it is within 3 of those of no more
// paints and within 6 of the best, and its last paint buys a quarter of a unit.
func TestKeepUseful(t *testing.T) {
	one, two := []int{1}, []int{1, 2}
	for name, c := range map[string]struct {
		found []Recipe
		kept  string // by DE
	}{
		"one of as many, 3 behind":        {[]Recipe{{Paints: one, DE: 1}, {Paints: []int{2}, DE: 3.9}, {Paints: []int{3}, DE: 4.1}}, "1 3.9"},
		"one of fewer, 3 and 6 behind":    {[]Recipe{{Paints: []int{3}, DE: 5.9}, {Paints: []int{4}, DE: 6.1}, {Paints: two, DE: 0}}, "5.9 0"},
		"one of more, 3 behind":           {[]Recipe{{Paints: one, DE: 1}, {Paints: []int{2, 3}, DE: 4.1}}, "1"},
		"a paint that buys too little":    {[]Recipe{{Paints: one, DE: 1}, {Paints: two, DE: 0.8}}, "1"},
		"a paint that buys enough":        {[]Recipe{{Paints: one, DE: 1}, {Paints: two, DE: 0.7}}, "1 0.7"},
		"the same paints, other parts":    {[]Recipe{{Paints: two, DE: 0.9}, {Paints: two, DE: 0.7}}, "0.7"},
		"the same recipe, found two ways": {[]Recipe{{Paints: two, DE: 0.7}, {Paints: two, DE: 0.7}}, "0.7"},
	} {
		var kept []string
		for _, r := range keepUseful(c.found) {
			kept = append(kept, fmt.Sprint(r.DE))
		}
		if got := strings.Join(kept, " "); got != c.kept {
			t.Errorf("%s: %s stay, want %s", name, got, c.kept)
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
	// The strong one comes last though there is more of it than of another.
	cobaltBlue := named(t, names, "cobalt blue")[0]
	more := m.MixingOrder([]int{blue, cobaltBlue, white}, []float64{2, 1, 10})
	if more[1].Paint != cobaltBlue || more[2].Paint != blue || !slices.IsSortedFunc(more, func(a, b Step) int { return cmp.Compare(a.Pull, b.Pull) }) {
		t.Errorf("order %+v", more)
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
