package film

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
)

// kitReadings are opaque readings of every paint alone and in tints, with noise
// of the given sizes: a fraction of the reading, and a reflectance factor.
func kitReadings(paints []Paint, white int, parts []float64, relative, absolute float64, seed uint64) []Reading {
	rng := rand.New(rand.NewPCG(seed, 1))
	var out []Reading
	add := func(name string, amounts []float64) {
		var mix Paint
		Mix(&mix, paints, amounts)
		r := Reading{Name: name, Amounts: amounts, Seen: mix.Masstone(Dry)}
		for b := range r.Seen {
			r.Seen[b] = max(0, r.Seen[b]*(1+relative*rng.NormFloat64())+absolute*rng.NormFloat64())
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

// knownPaints are the oils of the committed figures with zinc white's S as 1.
func knownPaints(t testing.TB) (paints []Paint, white int) {
	oils, _ := committedOils(t)
	zinc := oils["ZincWhite"].S
	for _, name := range slices.Sorted(maps.Keys(oils)) {
		p := oils[name]
		for b := range zinc {
			p.K[b], p.S[b] = max(p.K[b]/zinc[b], FloorK), max(p.S[b]/zinc[b], FloorS)
		}
		if name == "ZincWhite" {
			white = len(paints)
		}
		paints = append(paints, p)
	}
	return paints, white
}

// recovered counts the paints whose masstone and 1:9 tint a fit brings back.
func recovered(t *testing.T, paints []Paint, white int, relative, absolute float64) (good, all int) {
	const within = 0.5
	light := colour.D65()
	for seed := range uint64(3) {
		opt := DefaultFit()
		opt.Anchor, opt.Quick = white, true
		fit, err := Fit(context.Background(), kitReadings(paints, white, []float64{1, 4, 20}, relative, absolute, seed), len(paints), opt)
		if err != nil {
			t.Fatal(err)
		}
		for p := range paints {
			worst := 0.0
			for _, parts := range []float64{0, 9} {
				was, is := paints[p].Tint(&paints[white], parts, Dry), fit.Paints[p].Tint(&fit.Paints[white].Paint, parts, Dry)
				worst = max(worst, colour.DE2000(light.Lab(&was), light.Lab(&is)))
			}
			all++
			if worst <= within {
				good++
			} else {
				t.Logf("paint %d: %.2f", p, worst)
			}
		}
	}
	return good, all
}

// Noise of 0.3 % of the reading. A noise of 0.003 in reflectance factor is a tenth of what
// the darkest masstones reflect, and no fit recovers those from one reading of each.
func TestFitRecoversNoisyReadings(t *testing.T) {
	const share, noise = 0.95, 0.003
	paints, white := knownPaints(t)
	good, all := recovered(t, paints, white, noise, 0)
	t.Logf("%d of %d paints recovered", good, all)
	if float64(good) < share*float64(all) {
		t.Errorf("%d of %d paints recovered", good, all)
	}
}

func TestFitRecoversAcrylics(t *testing.T) {
	const share, noise = 0.95, 0.003
	_, paints, white := acrylics(t)
	good, all := recovered(t, paints, white, noise, 0)
	t.Logf("%d of %d paints recovered", good, all)
	if float64(good) < share*float64(all) {
		t.Errorf("%d of %d paints recovered", good, all)
	}
}

func BenchmarkFit85(b *testing.B) {
	paints, white := knownPaints(b)
	readings := kitReadings(paints, white, []float64{1, 4, 9, 20}, 0.003, 0, 1)[:85]
	opt := DefaultFit()
	opt.Anchor = white
	for b.Loop() {
		if _, err := Fit(context.Background(), readings, len(paints), opt); err != nil {
			b.Fatal(err)
		}
	}
}
