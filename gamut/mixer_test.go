package gamut

import (
	"errors"
	"math"
	"math/big"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"

	"pgregory.net/rapid"
)

func TestNewMixerRefuses(t *testing.T) {
	good := film.Paint{}
	for b := range good.K {
		good.K[b], good.S[b] = 0.1, 1
	}
	spoilt := func(k, s float64) film.Paint {
		p := good
		p.K[7], p.S[7] = k, s
		return p
	}
	for name, paints := range map[string][]film.Paint{
		"none": {}, "K 0": {good, spoilt(0, 1)}, "S 0": {spoilt(1, 0)}, "S < 0": {spoilt(1, -1)},
		"NaN": {spoilt(math.NaN(), 1)}, "Inf": {spoilt(1, math.Inf(1))},
	} {
		if _, err := NewMixer(paints, Options{Surface: film.Dry}); !errors.Is(err, ErrPaints) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := NewMixer([]film.Paint{good}, Options{Surface: film.Surface{K1: 1, K2: 0.5}}); !errors.Is(err, ErrPaints) {
		t.Errorf("surface: %v", err)
	}
}

// What every answer owes, whatever is asked.
func TestMixIsSound(t *testing.T) {
	_, paints := acrylics(t)
	mixers := map[int]*Mixer{}
	for _, limit := range []int{1, 2, 3, 4, -1} {
		mixers[limit] = mustMixer(t, paints, Options{Surface: film.Dry, PaintsPerMix: limit})
	}
	rapid.Check(t, func(t *rapid.T) {
		m := mixers[rapid.SampledFrom([]int{1, 2, 3, 4, -1}).Draw(t, "limit")]
		list := rapid.SliceOfNDistinct(rapid.IntRange(0, m.Len()-1), 1, 12, rapid.ID).Draw(t, "palette")
		coordinate := rapid.Float64Range(-150, 150)
		target := colour.Lab{L: rapid.Float64Range(0, 100).Draw(t, "L"), A: coordinate.Draw(t, "a"), B: coordinate.Draw(t, "b")}
		effort := rapid.SampledFrom([]Effort{Quick, Search, Verdict}).Draw(t, "effort")
		palette := set.Of(m.Len(), list...)
		mix := m.Closest(target, palette, effort)
		checkMix(t, m, mix, palette, target)
		again := m.Closest(target, palette, effort)
		if again.DE != mix.DE || again.Lab != mix.Lab {
			t.Fatal("not the same twice")
		}
		r := m.Recipe(target, mix, 12)
		checkRecipe(t, m, r, target, 12)
	})
}

func checkMix(t *rapid.T, m *Mixer, mix Mix, palette set.Set, target colour.Lab) {
	sum := 0.0
	for i, p := range mix.Paints {
		sum += mix.Shares[i]
		if !palette.Has(p) || mix.Shares[i] <= 0 || (i > 0 && p <= mix.Paints[i-1]) {
			t.Fatalf("mix %+v", mix)
		}
	}
	if math.Abs(sum-1) > 1e-12 || len(mix.Paints) == 0 || len(mix.Paints) > m.PaintsPerMix() {
		t.Fatalf("mix %+v", mix)
	}
	if lab := m.Evaluate(mix.Paints, mix.Shares); lab != mix.Lab || math.Abs(colour.DE2000(lab, target)-mix.DE) > 1e-9 {
		t.Fatalf("%v, evaluated %v", mix, lab)
	}
}

func checkRecipe(t *rapid.T, m *Mixer, r Recipe, target colour.Lab, most int) {
	total, factor := 0, new(big.Int)
	amounts := make([]float64, len(r.Parts))
	for i, n := range r.Parts {
		total += n
		amounts[i] = float64(n)
		factor.GCD(nil, nil, factor, big.NewInt(int64(n)))
		if n < 1 {
			t.Fatalf("recipe %+v", r)
		}
	}
	if total < 1 || total > most || factor.Int64() != 1 {
		t.Fatalf("recipe %+v", r)
	}
	if lab := m.Evaluate(r.Paints, amounts); lab != r.Lab || math.Abs(colour.DE2000(lab, target)-r.DE) > 1e-9 {
		t.Fatalf("recipe %+v, evaluated %v", r, lab)
	}
}
