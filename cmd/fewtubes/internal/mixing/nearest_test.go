package mixing

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/solver"
)

// rounding is how near two ways to work out one difference come.
const rounding = 1e-9

// checkOrder holds recipes to what a reader relies on: nothing shown is nearer than the
// nearest, and no recipe, let down or not, nearer than its mix measured freely.
func checkOrder(t *testing.T, found Recipes) {
	t.Helper()
	for _, r := range found.List {
		least := r.DE
		if r.LetDown != nil {
			least = min(least, r.LetDown.DE)
		}
		if r.Free.DE > least+rounding {
			t.Errorf("%v: %v at %.4f, measured freely at %.4f", found.Target, r.Parts, least, r.Free.DE)
		}
		if found.Nearest.DE > r.Free.DE+rounding {
			t.Errorf("%v: the nearest at %.4f, %v freely at %.4f", found.Target, found.Nearest.DE, r.Parts, r.Free.DE)
		}
	}
	if de := colour.DE2000(found.Nearest.Lab, found.Target); de > found.Nearest.DE+rounding {
		t.Errorf("%v: the nearest is said to be at %.4f, its colour is at %.4f", found.Target, found.Nearest.DE, de)
	}
}

// Far targets, where a search for one recipe may come upon what another overlooked.
func TestNothingShownIsNearerThanTheNearest(t *testing.T) {
	c, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, tube := range c.Tubes() {
		all = append(all, tube.ID)
	}
	rng := rand.New(rand.NewPCG(16, 1))
	for range 400 {
		var ids []string
		for _, i := range rng.Perm(len(all))[:2+rng.IntN(5)] {
			ids = append(ids, all[i])
		}
		table := tableOf(t, 1+rng.IntN(4), ids...)
		target := colour.LCh{L: 100 * rng.Float64(), C: 80 * rng.Float64() * rng.Float64(), H: 360 * rng.Float64()}.Lab()
		checkOrder(t, table.Recipes(target, 20))
	}
	for _, c := range []struct {
		target       colour.Lab
		paintsPerMix int
		ids          []string
	}{
		{colour.Lab{L: 39.018, A: -4.564, B: 0.498}, 2, []string{"cobalt-violet-light", "english-red", "neutral-grey"}},
		{colour.Lab{L: 40.089, A: -0.661, B: 1.367}, 2, []string{"caput-mortuum", "cobalt-blue-greenish"}},
		{colour.Lab{L: 5.557, A: 36.406, B: 13.486}, 3, []string{"cobalt-violet-light", "hookers-green", "ivory-black"}},
	} {
		checkOrder(t, tableOf(t, c.paintsPerMix, c.ids...).Recipes(c.target, 20))
	}
}

// Where no useful recipe in parts is of the tubes of the nearest mix, there is one that lets
// them down.
func TestNearestHasARecipe(t *testing.T) {
	table := tableOf(t, 2, "cobalt-violet-light", "english-red", "neutral-grey")
	found := table.Recipes(colour.Lab{L: 39.018, A: -4.564, B: 0.498}, 20)
	checkOrder(t, found)
	of := func(r Recipe) bool {
		return r.LetDown != nil && r.LetDown.DE < found.Nearest.DE+0.1 && !slices.Contains(r.IDs(), "neutral-grey")
	}
	if len(found.List) != 2 || !slices.ContainsFunc(found.List, of) {
		t.Errorf("nearest %+v, recipes %+v", found.Nearest, found.List)
	}
}

// A recipe that is exact beats a search that ends a hair's breadth away.
func TestExactPartsAreTheNearest(t *testing.T) {
	table := tableOf(t, 0, landscape...)
	rng := rand.New(rand.NewPCG(16, 2))
	for range 60 {
		amounts := randomAmounts(rng, landscape, 1+rng.IntN(3))
		for i := range amounts {
			amounts[i].Parts = float64(1 + rng.IntN(5))
		}
		target := seenPlainly(table, amounts)
		checkOrder(t, table.Recipes(target, 20))
	}
}

// A recipe let down that is nearer than the mix it was to stand for mends that mix.
func TestLetDownMendsTheMix(t *testing.T) {
	table := tableOf(t, 0, "titanium-white", "phthalo-blue-green-shade")
	at := func(part float64) gamut.Mix {
		paints := []int{table.place("titanium-white"), table.place("phthalo-blue-green-shade")}
		shares := []float64{1 - part, part}
		slices.SortFunc(paints, func(p, q int) int { return p - q })
		if paints[0] != table.place("titanium-white") {
			slices.Reverse(shares)
		}
		return gamut.Mix{Paints: paints, Shares: shares, Lab: table.mixer.Evaluate(paints, shares)}
	}
	target := at(0.004).Lab
	poor := at(0.006)
	poor.DE = colour.DE2000(poor.Lab, target)
	white := at(0).Lab
	r := table.recipe(target, gamut.Recipe{Paints: []int{table.place("titanium-white")}, Parts: []int{1}, Lab: white, DE: colour.DE2000(white, target)}, poor, 0)
	if r.LetDown == nil || r.LetDown.DE >= poor.DE {
		t.Fatalf("let down %+v, the mix at %g", r.LetDown, poor.DE)
	}
	if r.Free.DE > r.LetDown.DE+rounding {
		t.Errorf("freely at %g, let down at %g", r.Free.DE, r.LetDown.DE)
	}
}

// Where parts have no room for the nearest mix, the recipe that takes some of its tubes and
// no other stands for it, let down.
func TestNearestIsLetDownInItsOwnTubes(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 3))
	stood := 0
	check := func(found Recipes) {
		for _, r := range found.List {
			inParts := func(s solver.Share) bool {
				return slices.ContainsFunc(r.Parts, func(p solver.Part) bool { return p.ID == s.ID })
			}
			free := func(p solver.Part) bool {
				return slices.ContainsFunc(r.Free.Shares, func(s solver.Share) bool { return p.ID == s.ID })
			}
			if !slices.ContainsFunc(r.Free.Shares, func(s solver.Share) bool { return !inParts(s) }) {
				continue // of its own tubes
			}
			stood++
			if slices.ContainsFunc(r.Parts, func(p solver.Part) bool { return !free(p) }) {
				t.Errorf("%v: %v stands for %v", found.Target, r.Parts, r.Free.Shares)
			}
		}
	}
	for range 200 {
		var ids []string
		for _, i := range rng.Perm(len(landscape))[:3] {
			ids = append(ids, landscape[i])
		}
		target := colour.LCh{L: 90 * rng.Float64(), C: 50 * rng.Float64(), H: 360 * rng.Float64()}.Lab()
		check(tableOf(t, 0, ids...).Recipes(target, 20))
	}
	check(tableOf(t, 0, "cobalt-violet-light", "hookers-green", "ivory-black").Recipes(colour.Lab{L: 5.557, A: 36.406, B: 13.486}, 20))
	t.Logf("%d recipes stand for mixes of more tubes", stood)
	if stood == 0 {
		t.Error("none")
	}
}
