package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// The near-greys are the nearest of their range by the published difference, one in
// each range on each side of the target's hue.
func TestChooseGreys(t *testing.T) {
	w := newWorkspace(acrylicMixer(t))
	rng := rand.New(rand.NewPCG(35, 1))
	for range 200 {
		target := colour.LCh{L: 100 * rng.Float64(), C: 1 + 80*rng.Float64(), H: 360 * rng.Float64()}
		w.begin(target.Lab(), nil)
		w.chooseGreys()
		if len(w.greys) != 2*len(detourTurns) {
			t.Fatalf("%d near-greys", len(w.greys))
		}
		for k, g := range w.greys {
			got := colour.DE2000(colour.Lab{L: target.L, A: g.a, B: g.b}, target.Lab())
			if math.Abs(got-math.Sqrt(g.squared)) > 1e-6 {
				t.Errorf("%v: a near-grey is said to be at %g, is at %g", target, math.Sqrt(g.squared), got)
			}
			side := 1 - 2*float64((k+1)%2)
			for _, turn := range detourTurns[k/2] {
				angle := side * math.Acos(turn[0]) * 180 / math.Pi
				for _, c := range detourChroma {
					grey := colour.LCh{L: target.L, C: c, H: target.H + angle}.Lab()
					if d := colour.DE2000(grey, target.Lab()); d < got-0.01 {
						t.Errorf("%v: %g, but a turn of %g at chroma %g is at %g", target, got, angle, c, d)
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
		palette := set.Of(m.Len(), samples.Palette(m.Len(), 3, 6, rng)...)
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
		w.careful = true
		w.chooseGreys()
		w.detour()
		if w.best.squared > before || w.aim.Target != kernel.NewResidual(target).Target {
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

// Sectors surround grey when no half of the circle is free of them.
func TestSurround(t *testing.T) {
	rng := rand.New(rand.NewPCG(35, 3))
	for range 2000 {
		var sectors uint32
		var taken []float64
		for range 1 + rng.IntN(6) {
			hue := 2 * math.Pi * rng.Float64()
			s := sector(colour.Lab{A: 20 * math.Cos(hue), B: 20 * math.Sin(hue)})
			if opposite := sector(colour.Lab{A: -20 * math.Cos(hue), B: -20 * math.Sin(hue)}); opposite != (s+16)%32 {
				t.Fatalf("hue %g is in sector %d, its opposite in %d", hue, s, opposite)
			}
			sectors |= 1 << s
			taken = append(taken, float64(s))
		}
		gap := 0.0
		for _, p := range taken {
			next := 32.0
			for _, q := range taken {
				if ahead := math.Mod(q-p+32, 32); ahead > 0 {
					next = min(next, ahead)
				}
			}
			gap = max(gap, next)
		}
		if got, want := surround(sectors), gap < 16; got != want {
			t.Errorf("%032b: %v, the widest gap is %g of 32", sectors, got, gap)
		}
	}
}
