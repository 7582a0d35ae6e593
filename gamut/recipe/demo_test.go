package recipe_test

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"strconv"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
)

// demo is the colours of the demo scene, and tubes of the catalogue that it may be
// painted with.
func demo(t testing.TB, ids ...string) (paints []film.Paint, targets []recipe.Target) {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range ids {
		tube, err := all.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		paints = append(paints, tube.Paint)
	}
	text, err := os.ReadFile("../../testdata/salt-marsh.toml")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`colour = "lab\((\S+) (\S+) (\S+)\)"`).FindAllSubmatch(text, -1) {
		var v [3]float64
		for i := range v {
			if v[i], err = strconv.ParseFloat(string(m[i+1]), 64); err != nil {
				t.Fatal(err)
			}
		}
		targets = append(targets, recipe.Target{Lab: colour.Lab{L: v[0], A: v[1], B: v[2]}, Tolerance: 3})
	}
	if len(targets) != 24 {
		t.Fatalf("%d colours", len(targets))
	}
	return paints, targets
}

// photographed are the colours sampled from one of the shared photographs.
func photographed(t *testing.T, name string) (targets []recipe.Target) {
	t.Helper()
	file, err := os.Open("testdata/photographs.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	read := csv.NewReader(file)
	read.Comment = '#'
	rows, err := read.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		var v [3]float64
		for i := range v {
			if row[0] == name {
				if v[i], err = strconv.ParseFloat(row[i+1], 64); err != nil {
					t.Fatal(err)
				}
			}
		}
		if row[0] == name {
			targets = append(targets, recipe.Target{Lab: colour.Lab{L: v[0], A: v[1], B: v[2]}, Tolerance: 3})
		}
	}
	if len(targets) != 14 {
		t.Fatalf("%d colours of %s", len(targets), name)
	}
	return targets
}

// The demo's colours: of those in reach at most a quarter keep a let-down of their own.
func TestRuleOnTheDemo(t *testing.T) {
	paints, targets := demo(t, "titanium-white", "hansa-yellow-medium", "quinacridone-magenta", "prussian-blue", "transparent-yellow-oxide")
	if own := checkRule(t, paints, targets); own > len(targets)/4 {
		t.Errorf("%d with a let-down of their own", own)
	}
}

func TestRuleOnPhotographs(t *testing.T) {
	paints, _ := demo(t, "titanium-white", "hansa-yellow-medium", "cadmium-red-light", "ultramarine-blue", "yellow-ochre", "burnt-sienna")
	for _, name := range []string{"meadow-ridge", "wooded-stream"} {
		t.Run(name, func(t *testing.T) { checkRule(t, paints, photographed(t, name)) })
	}
}

// checkRule goes through every recipe of tubes: no let-down where straight tubes
// serve, paints and parts as few as the rule says; and fewer let-downs the more is
// prepared. It counts those of the most prepared that keep one of their own.
func checkRule(t *testing.T, paints []film.Paint, targets []recipe.Target) (own int) {
	t.Helper()
	o := oracle{paints, 4, recipe.DefaultTotal}
	tallies := make([]tally, len(targets))
	for i := range tallies {
		tallies[i] = tally{}
	}
	o.each(nil, 0, anything, func(f *found) {
		for i, target := range targets {
			if de, ok := o.serves(f, target.Lab, target.Tolerance); ok {
				tallies[i].add(f, de)
			}
		}
	})
	last := -1
	for prepared := range recipe.MostPrepared + 1 {
		p := plan(t, paints, targets, recipe.Limits{Prepared: prepared})
		plain := 0
		own = 0
		for i := range p.Recipes {
			r := &p.Recipes[i]
			checkMeasures(t, &o, r, targets[i])
			n, quarters, ok := tallies[i].plainest(targets[i].Tolerance)
			if ok != (r.Kind == recipe.Straight && r.Within) {
				t.Errorf("%v: straight tubes serve is %v, but %+v", targets[i], ok, r)
			}
			if ok && (r.Paints != n || r.Total() != float64(quarters)/4 || math.Abs(r.DE-tallies[i][[2]int{n, quarters}]) > same) {
				t.Errorf("%v: %d paints in %v parts would do, but %+v", targets[i], n, float64(quarters)/4, r)
			}
			switch {
			case r.Kind == recipe.OwnLetDown:
				own++
			case r.Within:
				plain++
			}
		}
		t.Logf("%d prepared: %d of %d plain, %d with a let-down of their own", prepared, plain, len(targets), own)
		if plain < last {
			t.Errorf("%d prepared: %d plain, %d with fewer", prepared, plain, last)
		}
		last = plain
	}
	return own
}
