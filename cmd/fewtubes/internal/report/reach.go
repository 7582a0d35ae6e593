package report

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// point is a place in the a*b* plane.
type point struct{ a, b float64 }

// reachOutline is how far mixes of the paints go in the a*b* plane, over all
// lightnesses: the farthest of many sampled mixes of up to three paints in each
// direction from their middle. It is a picture, not a verdict.
func reachOutline(paints []film.Paint, surface film.Surface, light *colour.Light, perMix int) []point {
	all := sampleMixes(paints, surface, light, min(perMix, 3))
	middle := point{}
	for _, p := range all {
		middle.a += p.a / float64(len(all))
		middle.b += p.b / float64(len(all))
	}
	const sectors = 120
	var far [sectors]float64
	var at [sectors]*point
	for i := range all {
		da, db := all[i].a-middle.a, all[i].b-middle.b
		k := int((math.Atan2(db, da)/(2*math.Pi)+1)*sectors) % sectors
		if r := math.Hypot(da, db); at[k] == nil || r > far[k] {
			far[k], at[k] = r, &all[i]
		}
	}
	var out []point
	for _, p := range at {
		if p != nil {
			out = append(out, *p)
		}
	}
	return out
}

// sampleMixes are the colours of a grid of mixes of up to n of the paints,
// evenly spaced after each paint is scaled to the same mean K+S, so that a
// strong paint does not crowd the samples to one end.
func sampleMixes(paints []film.Paint, surface film.Surface, light *colour.Light, n int) []point {
	scaled := make([]film.Paint, len(paints))
	for i := range paints {
		film.Mix(&scaled[i], paints[i:i+1], []float64{1 / meanStrength(&paints[i])})
	}
	var out []point
	sample := func(amounts [3]float64, picked ...int) {
		var mix film.Paint
		chosen := make([]film.Paint, len(picked))
		for k, i := range picked {
			chosen[k] = scaled[i]
		}
		film.Mix(&mix, chosen, amounts[:len(picked)])
		seen := mix.Masstone(surface)
		lab := light.Lab(&seen)
		out = append(out, point{lab.A, lab.B})
	}
	const pairSteps, tripleSteps = 40, 12
	for i := range scaled {
		sample([3]float64{1}, i)
		for j := i + 1; j < len(scaled) && n >= 2; j++ {
			for k := 1; k < pairSteps; k++ {
				x := float64(k) / pairSteps
				sample([3]float64{x, 1 - x}, i, j)
			}
			for l := j + 1; l < len(scaled) && n >= 3; l++ {
				for k := 1; k < tripleSteps; k++ {
					for m := 1; k+m < tripleSteps; m++ {
						sample([3]float64{float64(k), float64(m), float64(tripleSteps - k - m)}, i, j, l)
					}
				}
			}
		}
	}
	return out
}

func meanStrength(p *film.Paint) float64 {
	sum := 0.0
	for b := range p.K {
		sum += p.K[b] + p.S[b]
	}
	return sum / colour.Bands
}
