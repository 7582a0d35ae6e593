package recipe_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"slices"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/recipe"
)

func plan(t testing.TB, paints []film.Paint, targets []recipe.Target, limits recipe.Limits) recipe.Plan {
	t.Helper()
	k, err := recipe.NewKitchen(paints, gamut.Options{Surface: film.Dry}, limits)
	if err != nil {
		t.Fatal(err)
	}
	p, err := k.Plan(t.Context(), targets)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// same is what rounding may do to a difference.
const same = 1e-9

func anything(recipe.Ingredient) bool     { return true }
func tubesOnly(in recipe.Ingredient) bool { return !in.LetDown() }
func quartersOf(r *recipe.Recipe) (q []float64, items []recipe.Ingredient) {
	for _, p := range r.Parts {
		q, items = append(q, float64(p.Quarters)), append(items, p.Ingredient)
	}
	return q, items
}

// What is printed is what was promised: the difference is that of the parts, within
// is within, and the measures are those of a hand.
func checkMeasures(t *testing.T, o *oracle, r *recipe.Recipe, target recipe.Target) {
	t.Helper()
	q, items := quartersOf(r)
	if d := math.Abs(colour.DE2000(o.mix(items, q), target.Lab) - r.DE); d > same {
		t.Errorf("%+v: the parts differ by %g from what is said", r, d)
	}
	if r.Within != (r.DE <= target.Tolerance) {
		t.Errorf("%+v: within %v is said to be %v", r, target.Tolerance, r.Within)
	}
	wholes, touches := 0, 0
	held := map[int]bool{}
	for _, p := range r.Parts {
		held[p.Paint] = true
		if p.LetDown() {
			held[p.Into] = true
			if recipe.Strength(&o.paints[p.Paint]) <= recipe.Strength(&o.paints[p.Into]) {
				t.Errorf("%+v: the weaker paint is let down in the stronger", r)
			}
		}
		switch {
		case p.Quarters == 1:
			touches++
		case p.Quarters%4 != 0 || p.Quarters < 4 || p.Quarters > 32:
			t.Errorf("%+v: %d quarters", r, p.Quarters)
		default:
			wholes += p.Quarters
		}
	}
	if wholes+touches > 4*o.total || (touches > 0 && wholes < 16) || touches > 2 {
		t.Errorf("%+v: %d quarters and %d touches", r, wholes, touches)
	}
	if len(held) != r.Paints || len(held) > o.most || len(r.Parts) > o.most {
		t.Errorf("%+v: %d paints", r, len(held))
	}
}

// The rule, by going through every recipe there is: on 100 seeded palettes no
// let-down where straight tubes serve, paints and parts as few as it says.
func TestRuleOnStraightTubes(t *testing.T) {
	all := acrylics(t)
	kinds := map[recipe.Kind]int{}
	for seed := range uint64(100) {
		rng := rand.New(rand.NewPCG(seed, 1))
		paints, targets := draw(rng, all, 2+int(seed%4), 4)
		limits := recipe.Limits{Total: 6 + rng.IntN(7)}
		o := oracle{paints, min(4, len(paints)), limits.Total}
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
		p := plan(t, paints, targets, limits)
		for i := range p.Recipes {
			r := &p.Recipes[i]
			kinds[r.Kind]++
			checkMeasures(t, &o, r, targets[i])
			n, quarters, ok := tallies[i].plainest(targets[i].Tolerance)
			if ok != (r.Kind == recipe.Straight && r.Within) {
				t.Errorf("seed %d, %v: straight tubes serve is %v, but %+v", seed, targets[i], ok, r)
			}
			if ok && (r.Paints != n || r.Total() != float64(quarters)/4) {
				t.Errorf("seed %d, %v: %d paints in %v parts would do, but %+v", seed, targets[i], n, float64(quarters)/4, r)
			}
			if ok && math.Abs(r.DE-tallies[i][[2]int{n, quarters}]) > same {
				t.Errorf("seed %d, %v: such parts come as near as %v, but %+v", seed, targets[i], tallies[i][[2]int{n, quarters}], r)
			}
		}
	}
	t.Logf("%v", kinds)
	if kinds[recipe.Straight] < 100 || kinds[recipe.OwnLetDown] < 50 {
		t.Errorf("%v: the cases do not try the rule", kinds)
	}
}

// A let-down of its own, by the same rule, where straight tubes do not serve; two
// where one does not; and else what comes within half a unit of the nearest.
func TestRuleOnLetDowns(t *testing.T) {
	all := acrylics(t)
	tried := map[string]int{}
	for seed := range uint64(30) {
		rng := rand.New(rand.NewPCG(seed, 2))
		paints, targets := draw(rng, all, 3, 6)
		limits := recipe.Limits{Total: 8}
		o := oracle{paints, len(paints), limits.Total}
		p := plan(t, paints, targets, limits)
		var one [6]tally
		least := [6]float64{}
		for i := range one {
			one[i], least[i] = tally{}, math.Inf(1)
		}
		for n := range 2 {
			o.each(o.piles(), n, tubesOnly, func(f *found) {
				for i, target := range targets {
					if !slices.Contains(f.quarters, 1) {
						least[i] = min(least[i], colour.DE2000(f.lab, target.Lab))
					}
					if n == 0 {
						continue
					}
					if de, ok := o.serves(f, target.Lab, target.Tolerance); ok {
						one[i].add(f, de)
					}
				}
			})
		}
		for i := range p.Recipes {
			r := &p.Recipes[i]
			checkMeasures(t, &o, r, targets[i])
			n, quarters, ok := one[i].plainest(targets[i].Tolerance)
			switch {
			case r.Kind == recipe.Straight && r.Within: // see TestRuleOnStraightTubes
				tried["straight"]++
			case ok:
				tried["one let-down"]++
				if r.Kind != recipe.OwnLetDown || r.Paints != n || r.Total() != float64(quarters)/4 {
					t.Errorf("seed %d, %v: one let-down, %d paints in %v parts would do, but %+v", seed, targets[i], n, float64(quarters)/4, r)
				}
			case r.Within:
				tried["two let-downs"]++
			default:
				tried["nearest"]++
				if r.DE > least[i]+0.5+same {
					t.Errorf("seed %d, %v: whole parts come as near as %v, but %+v", seed, targets[i], least[i], r)
				}
			}
		}
	}
	t.Log(tried)
	for _, what := range []string{"one let-down", "two let-downs", "nearest"} {
		if tried[what] == 0 {
			t.Errorf("no case of %s", what)
		}
	}
}

// The prepared piles leave as few colours without a plain recipe as any others
// would, by trying all sets of up to three.
func TestPreparedPilesAreTheBest(t *testing.T) {
	all := acrylics(t)
	gained := 0
	for seed := range uint64(12) {
		rng := rand.New(rand.NewPCG(seed, 3))
		paints, targets := draw(rng, all, 3+int(seed%6)/5, 6)
		for i := range targets {
			targets[i].Tolerance = 1.5
		}
		o := oracle{paints, len(paints), 6}
		piles := o.piles()
		serves := map[[2]int]map[int]bool{} // by one pile twice, or by two
		note := func(f *found) {
			var at []int
			for _, in := range f.items {
				if in.LetDown() {
					at = append(at, slices.Index(piles, in))
				}
			}
			key := [2]int{-1, -1}
			if len(at) > 0 {
				key = [2]int{at[0], at[len(at)-1]}
			}
			for i, target := range targets {
				if serves[key][i] {
					continue
				}
				if _, ok := o.serves(f, target.Lab, target.Tolerance); ok {
					if serves[key] == nil {
						serves[key] = map[int]bool{}
					}
					serves[key][i] = true
				}
			}
		}
		for n := range 3 {
			o.each(piles, n, anything, note)
		}
		best := [4]int{}
		for a := range piles {
			for b := range piles {
				for c := range piles {
					if a > b || b > c {
						continue
					}
					plain := map[int]bool{}
					for _, key := range [][2]int{{-1, -1}, {a, a}, {b, b}, {c, c}, {a, b}, {b, c}, {a, c}} {
						for i := range serves[key] {
							plain[i] = true
						}
					}
					n := 3
					if a == b || b == c {
						n = 2
					}
					if a == c {
						n = 1
					}
					best[n] = max(best[n], len(plain))
				}
			}
		}
		best[0] = len(serves[[2]int{-1, -1}])
		for n := range best {
			p := plan(t, paints, targets, recipe.Limits{Total: 6, Prepared: n})
			plain := 0
			for i := range p.Recipes {
				checkMeasures(t, &o, &p.Recipes[i], targets[i])
				if r := &p.Recipes[i]; r.Within && r.Kind != recipe.OwnLetDown {
					plain++
				}
			}
			if want := slices.Max(best[:n+1]); plain != want || len(p.Prepared) > n {
				t.Errorf("seed %d: with %d prepared %d of %d colours are plain, %v would be", seed, n, plain, len(targets), want)
			}
		}
		gained += best[3] - best[0]
	}
	if gained < 12 {
		t.Errorf("%d colours gained: the cases do not try the choice", gained)
	}
}

// The same plan from one processor and from many, whatever the order of targets.
func TestPlanIsTheSame(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 5))
	paints, targets := draw(rng, acrylics(t), 5, 12)
	limits := recipe.Limits{Prepared: 3}
	many := plan(t, paints, targets, limits)
	before := runtime.GOMAXPROCS(1)
	one := plan(t, paints, targets, limits)
	runtime.GOMAXPROCS(before)
	if !reflect.DeepEqual(one, many) {
		t.Errorf("one processor: %+v\nmany: %+v", one, many)
	}
	slices.Reverse(targets)
	back := plan(t, paints, targets, limits)
	slices.Reverse(back.Recipes)
	if !reflect.DeepEqual(back.Recipes, many.Recipes) {
		t.Error("the order of targets changes their recipes")
	}
}

func TestPlanOfLittle(t *testing.T) {
	paints := acrylics(t)[:1]
	p := plan(t, paints, []recipe.Target{{Lab: colour.Lab{L: 50}, Tolerance: 3}}, recipe.Limits{Prepared: 3})
	if r := p.Recipes[0]; len(r.Parts) != 1 || r.Parts[0].Quarters != 4 || r.Within {
		t.Errorf("one tube: %+v", r)
	}
	if p := plan(t, paints, nil, recipe.Limits{}); len(p.Recipes) > 0 {
		t.Error("no colours:", p)
	}
	if _, err := recipe.NewKitchen(nil, gamut.Options{Surface: film.Dry}, recipe.Limits{}); err == nil {
		t.Error("no paints are taken")
	}
}
