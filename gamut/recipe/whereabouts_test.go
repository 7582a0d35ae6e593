package recipe

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
)

// A colour within a goal is near its cell and its piece, however the sketch errs; and
// few others are.
func TestWhereabouts(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 42))
	draw := func(at, by float64) float64 { return at + by*(2*rng.Float64()-1) }
	var goals []goal
	for i := range 66 {
		at := Target{Lab: colour.Lab{L: draw(50, 52), A: draw(0, 100), B: draw(0, 100)}, Tolerance: draw(2.5, 2)}
		if i%3 == 0 {
			at.Lab.A, at.Lab.B = at.Lab.A/5, at.Lab.B/5
		}
		if i == 0 {
			at.Tolerance = 15
		}
		goals = append(goals, newGoal(i, &at))
	}
	w := newWhereabouts(goals)
	within, near := 0, 0
	draws := bounded.Cases(t, 25_000, 100_000)
	for range draws {
		g := &goals[rng.IntN(len(goals))]
		by := 3 * g.limit
		lab := colour.Lab{L: draw(g.lab.L, by), A: draw(g.lab.A, by), B: draw(g.lab.B, by)}
		sketch := [3]float32{float32(draw(lab.L, kernel.SketchError)), float32(draw(lab.A, kernel.SketchError)), float32(draw(lab.B, kernel.SketchError))}
		s := spotOf(sketch)
		isNear := w.near(s).has(g.target) && w.nearer(g.target, s)
		if isNear {
			near++
		}
		if colour.DE2000(lab, g.lab) <= g.limit {
			if within++; !isNear || !g.inSight(sketch) {
				t.Errorf("%v is within %v of %v and not near or not in sight", lab, g.limit, g.lab)
			}
		}
	}
	checkAbout(t, w, rng)
	if t.Log(within, "within,", near, "near"); within < draws/20 || near > 3*within {
		t.Error("not the cases, or not the goals, that are looked for")
	}
}

// checkAbout asks for the sketches near open goals, all at once and one by one.
func checkAbout(t *testing.T, w *whereabouts, rng *rand.Rand) {
	t.Helper()
	labs := make([]kernel.Sketches, 500)
	for e := range labs {
		for i := range kernel.Abreast {
			labs[e][0][i], labs[e][1][i], labs[e][2][i] = rng.Float32()*110-5, rng.Float32()*280-140, rng.Float32()*280-140
		}
	}
	open := newMarks(len(w.goals))
	for g := 0; g < len(w.goals); g += 2 {
		open.add(g)
	}
	var want []int
	for i := range len(labs) * kernel.Abreast {
		for k, word := range w.near(spotOf(kernel.Of(labs, i))) {
			if word&open[k] != 0 {
				want = append(want, i)
				break
			}
		}
	}
	if got := w.about(nil, labs, open); !slices.Equal(got, want) || len(want) == 0 {
		t.Errorf("%d sketches near open goals, one by one %d", len(got), len(want))
	}
}
