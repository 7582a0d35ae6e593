package gamut

import (
	"fmt"
	"math"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// level is a paint that absorbs and scatters alike in every band.
func level(k, s float64) (p film.Paint) {
	for b := range p.K {
		p.K[b], p.S[b] = k, s
	}
	return p
}

// Every answer about paints and colours at the edge is made of numbers, and a
// mix of what is there.
func TestEdgesOfMixing(t *testing.T) {
	black, white := level(film.CeilK, film.FloorS), level(film.FloorK, film.CeilS)
	boxes := map[string][]film.Paint{
		"black":         {black},
		"white":         {white},
		"clear":         {level(film.FloorK, film.FloorS)},
		"both":          {black, white},
		"the same":      {level(1, 1), level(1, 1), level(1, 1), level(1, 1), level(1, 1)},
		"in proportion": {level(1, 1), level(1e-3, 1e-3), level(1e3, 1e3)},
	}
	colours := []colour.Lab{{L: 0}, {L: 100}, {L: 50, A: 150, B: -150}, {L: 100, A: -150, B: 150}, {L: 30, A: 1e-300}}
	for name, paints := range boxes {
		for _, surface := range []film.Surface{{}, film.Dry} {
			m, err := NewMixer(paints, Options{Surface: surface})
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			all := set.Full(m.Len())
			for _, target := range colours {
				about := fmt.Sprintf("%s, %v, to %v", name, surface, target)
				mix := m.Closest(target, all, Verdict)
				sound(t, about, mix.Shares, mix.Lab, mix.DE)
				for _, r := range m.Recipes(target, all, 0, 0) {
					if len(r.Parts) == 0 {
						t.Errorf("%s: a recipe of nothing", about)
					}
					onlyNumbers(t, about+", in parts", r.Lab, r.DE)
				}
				c, err := m.Correct(Pile{Paints: []int{0}, Amounts: []float64{1e-3}}, target, all, 0)
				if err != nil {
					t.Errorf("%s: %v", about, err)
				}
				onlyNumbers(t, about+", a pile", c.Lab, c.DE, c.Added, c.Afresh.DE)
			}
			onlyNumbers(t, name+", volume", colour.Lab{}, m.Volume(all))
			for _, p := range m.Outline(all) {
				onlyNumbers(t, name+", outline", colour.Lab{}, p[0], p[1])
			}
			for _, p := range m.OutlineAt(all, 50, 12) {
				onlyNumbers(t, name+", outline at 50", p)
			}
		}
	}
}

func sound(t *testing.T, about string, shares []float64, lab colour.Lab, de float64) {
	t.Helper()
	sum := 0.0
	for _, s := range shares {
		if !(s > 0) {
			t.Errorf("%s: a share of %v", about, s)
		}
		sum += s
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("%s: shares of %v", about, shares)
	}
	onlyNumbers(t, about, lab, de)
}

func onlyNumbers(t *testing.T, about string, lab colour.Lab, others ...float64) {
	t.Helper()
	for _, v := range others {
		if math.IsNaN(v - v) {
			t.Errorf("%s: %v", about, v)
		}
	}
	if !lab.Finite() {
		t.Errorf("%s: %v", about, lab)
	}
}

// The nearest mix of nothing is infinitely far, and has no paint in it.
func TestNothingToMix(t *testing.T) {
	m, err := NewMixer([]film.Paint{level(1, 1)}, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if mix := m.Closest(colour.Lab{L: 50}, set.New(1), Search); len(mix.Paints) > 0 || !math.IsInf(mix.DE, 1) {
		t.Errorf("%+v", mix)
	}
	if v := m.Volume(set.New(1)); v != 0 {
		t.Errorf("a volume of %v", v)
	}
	if r := m.Recipes(colour.Lab{L: 50}, set.New(1), 0, 0); len(r) > 0 {
		t.Errorf("%+v", r)
	}
}
