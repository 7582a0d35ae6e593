package gamut

import (
	"fewtubes/gamut/set"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
)

// CIEDE2000 jumps where hues are exactly opposite (Sharma, Wu, Dalal 2005); a
// step over that edge upwards is told from one that is only too long.
func TestFallsOff(t *testing.T) {
	target := colour.LCh{L: 50, C: 60, H: 290}
	at := func(h float64) residual {
		f := newResidual(target.Lab())
		f.at(colour.LCh{L: 50, C: 20, H: h}.Lab())
		return f
	}
	jumps := 0
	for h := 90.0; h < 130; h += 0.05 {
		f, next := at(h), at(h+0.05)
		rises := next.squared > f.squared
		if over := f.cross*next.cross < 0; f.fallsOff(&next) != (over && rises) {
			t.Errorf("at %g: %v", h, f.fallsOff(&next))
		} else if over && math.Abs(next.squared-f.squared) > 1 {
			jumps++
		}
	}
	if jumps != 1 {
		t.Errorf("%d jumps, there is one opposite hue", jumps)
	}
	if near, other := at(289), at(291); near.fallsOff(&other) || other.fallsOff(&near) {
		t.Error("hues on either side of the target's own are no edge")
	}
}

// Beside the edge a slide comes nearer without going over it.
func TestSlide(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(34, 1))
	asked, nearer := 0, 0
	for asked < 200 {
		list := randomPalette(m.Len(), 4, 4, rng)
		mix := randomMix(m, list, rng).LCh()
		if mix.C < 5 {
			continue
		}
		asked++
		w.begin(colour.LCh{L: mix.L + 10*rng.NormFloat64(), C: 60, H: mix.H + 179}.Lab(), set.Of(m.Len(), list...))
		w.list = append(w.list[:0], list...)
		w.amount = append(w.amount[:0], 0.25, 0.25, 0.25, 0.25)
		w.evaluate()
		if w.aim.along > 0 {
			continue
		}
		w.slopes.fill(w.here, &m.optics, w.aim)
		trace := 0.0
		for i, p := range w.list {
			w.slopes.by(&w.jac[i], &m.bands[p])
			trace += dot(w.jac[i], w.jac[i])
		}
		before := w.aim.squared
		if w.slide(1e-3*trace, leastGain) {
			nearer++
			if w.aim.squared >= before {
				t.Errorf("%v: slides from %g to %g", list, before, w.aim.squared)
			}
		} else if w.aim.squared != before {
			t.Errorf("%v: no slide, but from %g to %g", list, before, w.aim.squared)
		}
	}
	t.Logf("%d of %d slide nearer", nearer, asked)
	if nearer < 20 {
		t.Error("hardly any")
	}
}
