package main

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"fewtubes/gamut/colour"

	"gonum.org/v1/gonum/optimize"
)

// In how many plausible boxes each colour holds follows from tubes --draw N --json alone:
// the formulas the schema spells out, and a general minimiser (Nelder-Mead, gonum) from
// several starts instead of the search.
func TestHoldsFromJSONAlone(t *testing.T) {
	const draws = 4
	scene := filepath.Join(t.TempDir(), "scene.toml")
	if err := os.WriteFile(scene, []byte(recomputeScene), 0o644); err != nil {
		t.Fatal(err)
	}
	var choice struct {
		Palettes []struct {
			Tubes   []string
			Targets []struct {
				Name      string
				Lab       []float64
				Tolerance float64
			}
		}
		Doubt struct {
			Draws   int
			Whole   int `json:"palette_holds"`
			Targets []struct {
				Name  string
				Holds int
			}
		}
	}
	answerOf(t, &choice, "choose", scene, "--json", "--draws", strconv.Itoa(draws), "--paints-per-mix", "6")
	best := choice.Palettes[0]
	whole, holds := 0, map[string]int{}
	for n := 1; n <= draws; n++ {
		var tubes jsonTubes
		answerOf(t, &tubes, "tubes", "--draw", strconv.Itoa(n), "--json")
		all := 1
		for _, h := range choice.Doubt.Targets {
			target := best.Targets[slices.IndexFunc(best.Targets, func(x struct {
				Name      string
				Lab       []float64
				Tolerance float64
			}) bool {
				return x.Name == h.Name
			})]
			goal := colour.Lab{L: target.Lab[0], A: target.Lab[1], B: target.Lab[2]}
			if minimised(t, &tubes, best.Tubes, goal, target.Tolerance) <= target.Tolerance {
				holds[h.Name]++
			} else {
				all = 0
			}
		}
		whole += all
	}
	if choice.Doubt.Draws != draws || choice.Doubt.Whole != whole || len(choice.Doubt.Targets) < 4 {
		t.Errorf("%+v; from the JSON alone the palette holds in %d", choice.Doubt, whole)
	}
	for _, h := range choice.Doubt.Targets {
		if h.Holds != holds[h.Name] {
			t.Errorf("%s holds in %d, from the JSON alone in %d", h.Name, h.Holds, holds[h.Name])
		}
	}
}

// minimised is the nearest that a minimiser brings some tubes to a colour, or the first
// within a tolerance.
func minimised(t *testing.T, tubes *jsonTubes, ids []string, goal colour.Lab, tolerance float64) float64 {
	t.Helper()
	tubes.Tubes = slices.DeleteFunc(slices.Clone(tubes.Tubes), func(x struct {
		ID   string
		K, S []float64
	}) bool {
		return !slices.Contains(ids, x.ID)
	})
	p := optimize.Problem{Func: func(x []float64) float64 {
		volumes := map[string]float64{}
		for i, id := range ids {
			volumes[id] = math.Exp(x[i])
		}
		return colour.DE2000(tubes.mix(volumes), goal)
	}}
	least := math.Inf(1)
	for lean := -1; lean < len(ids) && least > tolerance; lean++ {
		start := make([]float64, len(ids))
		if lean >= 0 {
			start[lean] = 4
		}
		r, err := optimize.Minimize(p, start, &optimize.Settings{FuncEvaluations: 1500}, &optimize.NelderMead{})
		if err != nil && r == nil {
			t.Fatal(err)
		}
		least = min(least, r.F)
	}
	return least
}
