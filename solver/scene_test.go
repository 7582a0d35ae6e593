package solver

import (
	"fmt"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// sceneColours are a made-up landscape: fields, woods, water and skies.
var sceneColours = []colour.Lab{
	{L: 68, A: -18, B: 42}, {L: 45, A: -16, B: 28}, {L: 82, A: -3, B: -12}, {L: 30, A: -5, B: 8},
	{L: 60, A: 8, B: 32}, {L: 74, A: 2, B: 22}, {L: 55, A: -8, B: -14}, {L: 38, A: 12, B: 18},
	{L: 88, A: 1, B: 8}, {L: 50, A: -22, B: 35}, {L: 64, A: -6, B: 6}, {L: 42, A: 3, B: -18},
	{L: 72, A: 14, B: 30}, {L: 35, A: -12, B: 14}, {L: 78, A: -10, B: 30}, {L: 58, A: 20, B: 24},
	{L: 48, A: 0, B: 12}, {L: 28, A: 2, B: -6}, {L: 92, A: -1, B: 3}, {L: 66, A: -12, B: 18},
	{L: 70, A: -4, B: -20}, {L: 52, A: 26, B: 40}, {L: 33, A: 8, B: -10}, {L: 80, A: 6, B: 40},
}

func sceneTargets(n int, tolerance float64) []Target {
	var out []Target
	for i, c := range sceneColours[:n] {
		out = append(out, Target{Name: fmt.Sprintf("c%02d", i), Lab: c, Area: 1 + float64(i%5), Tolerance: tolerance})
	}
	return out
}

// sceneProblem is the landscape over the built-in tubes.
func sceneProblem(t testing.TB, targets int, tolerance float64) Problem {
	t.Helper()
	cat, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return Problem{Tubes: cat.Tubes(), Targets: sceneTargets(targets, tolerance), Surface: film.Dry, Light: colour.D65()}
}
