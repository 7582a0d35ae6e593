// Package samples draws what the tests of mixing are asked about: measured paints,
// palettes of them and colours that they mix. Only tests use it.
package samples

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/film"
	"fewtubes/gamut/portable"
)

// Acrylics reads the 19 paints of R. S. Berns, 2016, from acrylics.csv.
func Acrylics(t testing.TB, path string) (names []string, paints []film.Paint) {
	t.Helper()
	for i, row := range figures.Rows(t, path) {
		b := i % colour.Bands
		if b == 0 {
			names = append(names, row[1])
			paints = append(paints, film.Paint{})
		}
		p := &paints[len(paints)-1]
		p.K[b], p.S[b] = figures.Number(t, row[3]), figures.Number(t, row[4])
	}
	return names, paints
}

// Tubes reads K and S as the catalogue stores them.
func Tubes(t testing.TB, path string) []film.Paint {
	t.Helper()
	rows := figures.Rows(t, path)
	nodes := make([]film.Nodes, len(rows)/2)
	for i, row := range rows {
		to := &nodes[i/2].K
		if row[1] == "S" {
			to = &nodes[i/2].S
		}
		for k, v := range figures.Numbers(t, row[2:]) {
			to[k] = v
		}
	}
	paints := make([]film.Paint, len(nodes))
	for i := range nodes {
		paints[i] = film.FromNodes(&nodes[i])
	}
	return paints
}

// Palette draws from least to most of n paints, ascending.
func Palette(n, least, most int, rng *rand.Rand) []int {
	palette := rng.Perm(n)[:least+rng.IntN(most-least+1)]
	slices.Sort(palette)
	return palette
}

// Mix is the colour of up to four of the paints that m evaluates.
func Mix(m interface {
	Evaluate(paints []int, amounts []float64) colour.Lab
}, from []int, rng *rand.Rand) colour.Lab {
	n := min(len(from), 1+rng.IntN(4))
	list, amounts := make([]int, n), make([]float64, n)
	for i, j := range rng.Perm(len(from))[:n] {
		list[i], amounts[i] = from[j], rng.ExpFloat64()
	}
	return m.Evaluate(list, amounts)
}

// Sparse sets amounts of sum 1 at random with many near the ends, as tinters need.
func Sparse(rng *rand.Rand, amount []float64) {
	sum := 0.0
	for i := range amount {
		amount[i] = portable.Exp(4 * rng.NormFloat64() * rng.Float64())
		sum += amount[i]
	}
	sum = 1 / sum
	for i := range amount {
		amount[i] *= sum
	}
}

// EachSupport visits every choice of so many of some paints.
func EachSupport(from []int, size int, visit func([]int)) {
	chosen := make([]int, 0, size)
	var rec func(at int)
	rec = func(at int) {
		if len(chosen) == size {
			visit(chosen)
			return
		}
		for i := at; i+size-len(chosen) <= len(from); i++ {
			chosen = append(chosen, from[i])
			rec(i + 1)
			chosen = chosen[:len(chosen)-1]
		}
	}
	rec(0)
}
