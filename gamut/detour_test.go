package gamut

import (
	"fewtubes/gamut/set"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
)

// The wayside is the nearest of its near-greys by the published difference.
func TestWayside(t *testing.T) {
	w := newWorkspace(acrylicMixer(t))
	rng := rand.New(rand.NewPCG(35, 1))
	for range 200 {
		target := colour.LCh{L: 100 * rng.Float64(), C: 30 + 70*rng.Float64(), H: 360 * rng.Float64()}
		w.begin(target.Lab(), nil)
		for _, side := range []float64{-1, 1} {
			got := colour.DE2000(w.wayside(side, detourTurns[:], detourChroma[:]), target.Lab())
			for _, turn := range detourTurns {
				for _, c := range detourChroma {
					grey := colour.LCh{L: target.L, C: c, H: target.H + side*turn}.Lab()
					if d := colour.DE2000(grey, target.Lab()); d < got-1e-6 {
						t.Errorf("%v: %g, but a turn of %g at chroma %g is at %g", target, got, turn, c, d)
					}
				}
			}
		}
	}
}

// A detour ends no farther off than the search began it, keeps to its target,
// and sometimes ends nearer.
func TestDetour(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(35, 2))
	asked, nearer := 0, 0
	for asked < 200 {
		palette := set.Of(m.Len(), randomPalette(m.Len(), 3, 6, rng)...)
		target := colour.SRGB{R: rng.Float64(), G: rng.Float64(), B: rng.Float64()}.Lab()
		w.begin(target, palette)
		w.best.squared, w.enough = math.Inf(1), met
		w.alone()
		m.bank.collect(w, palette, 3)
		w.startFrom(w.seeds, 2)
		before := w.best.squared
		if before < 15*15 {
			continue
		}
		asked++
		w.detour()
		if w.best.squared > before || w.aim.target != newResidual(target).target {
			t.Errorf("%v: from %g to %g", target, before, w.best.squared)
		}
		if mix := w.finish(target); math.Abs(mix.DE-math.Sqrt(w.best.squared)) > 2*traceCost {
			t.Errorf("%v: said to be at %g, is at %g", target, math.Sqrt(w.best.squared), mix.DE)
		}
		if math.Sqrt(w.best.squared) < math.Sqrt(before)-0.05 {
			nearer++
		}
	}
	t.Logf("%d of %d end nearer", nearer, asked)
	if nearer == 0 {
		t.Error("a detour never helps")
	}
}
