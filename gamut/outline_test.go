package gamut

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

func TestHull(t *testing.T) {
	got := hull([][2]float64{{0, 0}, {1, 1}, {2, 0}, {2, 2}, {0, 2}, {1, 0}, {2, 0}})
	want := [][2]float64{{0, 0}, {2, 0}, {2, 2}, {0, 2}}
	if len(got) != len(want) {
		t.Fatalf("%v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("%v, want %v", got, want)
		}
	}
}

// Random mixes of a palette lie inside its outline, to a small margin for the
// steps of the trace.
func TestOutlineHoldsMixes(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(81, 82))
	for range 10 {
		p := samples.Palette(m.Len(), 3, 6, rng)
		outline := m.Outline(set.Of(m.Len(), p...))
		for range 200 {
			lab := samples.Mix(m, p, rng)
			for i, from := range outline {
				to := outline[(i+1)%len(outline)]
				length := math.Hypot(to[0]-from[0], to[1]-from[1])
				if turn(from, to, [2]float64{lab.A, lab.B})/length < -2 {
					t.Errorf("%v of %v outside", lab, p)
				}
			}
		}
	}
}

func TestOutlineAt(t *testing.T) {
	names, _ := acrylics(t)
	m := acrylicMixer(t)
	p := named(t, names, "titanium white", "ultramarine blue", "cadmium red light", "bismuth vanadate yellow", "phthalo green blue shade")
	palette := set.Of(m.Len(), p...)
	edge := m.OutlineAt(palette, 60, 24)
	if len(edge) != 24 {
		t.Fatalf("%d points", len(edge))
	}
	for _, c := range edge {
		if mix := m.Closest(c, palette, Verdict); mix.DE > outlineNear+1e-3 {
			t.Errorf("%v is %.3f off", c, mix.DE)
		}
		beyond := c
		beyond.A, beyond.B = c.A*1.25, c.B*1.25
		if mix := m.Closest(beyond, palette, Verdict); mix.DE < outlineNear {
			t.Errorf("%v is within reach too", beyond)
		}
	}
	if edge := m.OutlineAt(set.Of(m.Len(), p[0]), 20, 8); edge != nil {
		t.Errorf("white alone at L 20: %v", edge)
	}
}
