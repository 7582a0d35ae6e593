package film

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
)

// kitReadings are opaque readings of every paint alone and in tints, with
// relative noise of the given size.
func kitReadings(paints []Paint, white int, parts []float64, noise float64, seed uint64) []Reading {
	rng := rand.New(rand.NewPCG(seed, 1))
	var out []Reading
	add := func(name string, amounts []float64) {
		var mix Paint
		Mix(&mix, paints, amounts)
		r := Reading{Name: name, Amounts: amounts, Seen: mix.Masstone(Dry)}
		for b := range r.Seen {
			r.Seen[b] = r.Seen[b] * (1 + noise*rng.NormFloat64())
			r.Have[b] = true
		}
		out = append(out, r)
	}
	for p := range paints {
		alone := make([]float64, len(paints))
		alone[p] = 1
		add(fmt.Sprintf("%d alone", p), alone)
	}
	for p := range paints {
		for _, n := range parts {
			if p == white {
				continue
			}
			tint := make([]float64, len(paints))
			tint[p], tint[white] = 1, n
			add(fmt.Sprintf("%d in %g", p, n), tint)
		}
	}
	return out
}

func TestFitRecoversNoisyReadings(t *testing.T) {
	names, paints, white := acrylics(t)
	light := colour.D65()
	good, all := 0, 0
	for seed := range uint64(3) {
		opt := DefaultFit()
		opt.Anchor = white
		fit, err := Fit(context.Background(), kitReadings(paints, white, []float64{1, 4, 20}, 0.003, seed), len(paints), opt)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d rounds", fit.Iterations)
		for p := range paints {
			m, n := paints[p].Masstone(Dry), fit.Paints[p].Masstone(Dry)
			de := colour.DE2000(light.Lab(&m), light.Lab(&n))
			m, n = paints[p].Tint(&paints[white], 9, Dry), fit.Paints[p].Tint(&fit.Paints[white].Paint, 9, Dry)
			tint := colour.DE2000(light.Lab(&m), light.Lab(&n))
			all++
			if max(de, tint) <= 0.5 {
				good++
			} else {
				t.Logf("%s: masstone %.2f, tint %.2f", names[p], de, tint)
			}
		}
	}
	if float64(good) < 0.95*float64(all) {
		t.Errorf("%d of %d paints recovered within 0.5", good, all)
	}
}

func BenchmarkFit85(b *testing.B) {
	_, paints, white := acrylics(b)
	readings := kitReadings(paints, white, []float64{1, 4, 9, 20}, 0.003, 1)
	opt := DefaultFit()
	opt.Anchor = white
	for b.Loop() {
		if _, err := Fit(context.Background(), readings[:85], len(paints), opt); err != nil {
			b.Fatal(err)
		}
	}
}
