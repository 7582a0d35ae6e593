package recipe_test

import (
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

// The demo's colours: no let-down where straight tubes serve, paints and parts as few
// as the rule says, all by going through every recipe of tubes; and of the colours
// in reach at most a quarter keep a let-down of their own, fewer the more is prepared.
func TestRuleOnTheDemo(t *testing.T) {
	paints, targets := demo(t, "titanium-white", "hansa-yellow-medium", "quinacridone-magenta", "prussian-blue", "transparent-yellow-oxide")
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
		plain, own := 0, 0
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
		if plain < last || prepared == recipe.MostPrepared && own > len(targets)/4 {
			t.Errorf("%d prepared: %d plain, %d with a let-down of their own", prepared, plain, own)
		}
		last = plain
	}
}
