package film

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
)

// Films over white and black of unknown thickness, one for all or each its own,
// read with 0.3 % noise, bring opaque masstones and tints back, but for the
// extenders and lead white: the faint absorption that colours an opaque layer of
// them hardly shows in a film.
func TestFitRecoversFromFilms(t *testing.T) {
	const share, within, noise = 0.85, 0.5, 0.003
	paints, white := knownPaints(t)
	charts := []colour.Spectrum{colour.Flat(0.85), colour.Flat(0.05)}
	light := colour.D65()
	for _, each := range []bool{false, true} {
		rng := rand.New(rand.NewPCG(7, 7))
		var readings []Reading
		for i, r := range kitReadings(paints, white, []float64{1, 4, 20}, 0, 0, 1) {
			x := 4.0
			if each {
				r.Film = fmt.Sprint(i)
				x *= math.Exp(0.2 * rng.NormFloat64())
			}
			var mix Paint
			Mix(&mix, paints, r.Amounts)
			sum := 0.0
			for _, a := range r.Amounts {
				sum += a
			}
			for c := range charts {
				r.Backing = &charts[c]
				for b := range r.Seen {
					r.Seen[b] = Dry.Seen(Over(mix.K[b]/sum, mix.S[b]/sum, x, Dry.Inside(charts[c][b]))) * (1 + noise*rng.NormFloat64())
				}
				readings = append(readings, r)
			}
		}
		opt := DefaultFit()
		opt.Anchor, opt.Quick = white, true
		fit, err := Fit(context.Background(), readings, len(paints), opt)
		if err != nil {
			t.Fatal(err)
		}
		good := 0
		for p := range paints {
			worst := 0.0
			for _, parts := range []float64{0, 9} {
				was, is := paints[p].Tint(&paints[white], parts, Dry), fit.Paints[p].Tint(&fit.Paints[white].Paint, parts, Dry)
				worst = max(worst, colour.DE2000(light.Lab(&was), light.Lab(&is)))
			}
			if worst <= within {
				good++
			} else {
				t.Logf("each %t, paint %d: %.2f", each, p, worst)
			}
		}
		t.Logf("each %t: %d of %d, %d rounds", each, good, len(paints), fit.Iterations)
		if float64(good) < share*float64(len(paints)) {
			t.Errorf("each %t: %d of %d paints recovered", each, good, len(paints))
		}
	}
}
