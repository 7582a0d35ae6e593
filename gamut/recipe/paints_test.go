package recipe_test

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/recipe"
)

// acrylics are the 19 paints of R. S. Berns, "Artist Paint Spectral Database",
// CIC24, 2016.
func acrylics(t testing.TB) []film.Paint {
	t.Helper()
	_, paints := samples.Acrylics(t, "../testdata/acrylics.csv")
	return paints
}

// draw takes n of the paints, the lightest among them, and colours that they or
// paints like them mix to.
func draw(rng *rand.Rand, all []film.Paint, n, colours int) (paints []film.Paint, targets []recipe.Target) {
	white := 0
	for i := range all {
		if recipe.Strength(&all[i]) < recipe.Strength(&all[white]) {
			white = i
		}
	}
	paints = append(paints, all[white])
	for _, i := range rng.Perm(len(all)) {
		if i != white && len(paints) < n {
			paints = append(paints, all[i])
		}
	}
	for range colours {
		targets = append(targets, recipe.Target{Lab: anyMix(rng, paints), Tolerance: 1 + 3*rng.Float64()})
	}
	return paints, targets
}

// anyMix is the colour of a mix in amounts spread over three orders, shifted by a
// few units, so that some are out of reach.
func anyMix(rng *rand.Rand, paints []film.Paint) colour.Lab {
	amounts := make([]float64, len(paints))
	for i := range amounts {
		amounts[i] = 1
		for range rng.IntN(4) {
			amounts[i] /= 10*rng.Float64() + 1
		}
		if rng.IntN(3) == 0 {
			amounts[i] = 0
		}
	}
	amounts[0] += 0.1
	var sum film.Paint
	film.Mix(&sum, paints, amounts)
	seen := sum.Masstone(film.Dry)
	lab := colour.D65().Lab(&seen)
	return colour.Lab{L: lab.L + 4*rng.Float64() - 2, A: lab.A + 4*rng.Float64() - 2, B: lab.B + 4*rng.Float64() - 2}
}
