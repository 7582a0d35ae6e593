package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// CIEDE2000 jumps where hues are exactly opposite (Sharma, Wu, Dalal 2005); a
// step over that edge upwards is told from one that is only too long.
func TestFallsOff(t *testing.T) {
	target := colour.LCh{L: 50, C: 60, H: 290}
	at := func(h float64) kernel.Residual {
		f := kernel.NewResidual(target.Lab())
		f.At(colour.LCh{L: 50, C: 20, H: h}.Lab())
		return f
	}
	jumps := 0
	for h := 90.0; h < 130; h += 0.05 {
		f, next := at(h), at(h+0.05)
		rises := next.Squared > f.Squared
		if over := f.Cross*next.Cross < 0; f.FallsOff(&next) != (over && rises) {
			t.Errorf("at %g: %v", h, f.FallsOff(&next))
		} else if over && math.Abs(next.Squared-f.Squared) > 1 {
			jumps++
		}
	}
	if jumps != 1 {
		t.Errorf("%d jumps, there is one opposite hue", jumps)
	}
	if near, other := at(289), at(291); near.FallsOff(&other) || other.FallsOff(&near) {
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
		list := samples.Palette(m.Len(), 4, 4, rng)
		mix := samples.Mix(m, list, rng).LCh()
		if mix.C < 5 {
			continue
		}
		asked++
		w.begin(colour.LCh{L: mix.L + 10*rng.NormFloat64(), C: 60, H: mix.H + 179}.Lab(), set.Of(m.Len(), list...))
		w.list = append(w.list[:0], list...)
		w.amount = append(w.amount[:0], 0.25, 0.25, 0.25, 0.25)
		w.evaluate()
		if w.aim.Along > 0 {
			continue
		}
		w.slopes.Fill(w.here, &m.optics, w.aim)
		trace := 0.0
		for i, p := range w.list {
			w.slopes.By(&w.jac[i], &m.bands[p])
			trace += kernel.Dot(w.jac[i], w.jac[i])
		}
		before := w.aim.Squared
		if w.slide(1e-3*trace, leastGain) {
			nearer++
			if w.aim.Squared >= before {
				t.Errorf("%v: slides from %g to %g", list, before, w.aim.Squared)
			}
		} else if w.aim.Squared != before {
			t.Errorf("%v: no slide, but from %g to %g", list, before, w.aim.Squared)
		}
	}
	t.Logf("%d of %d slide nearer", nearer, asked)
	if nearer < 20 {
		t.Error("hardly any")
	}
}

// overEdge visits mixes of three paints, some degrees before the edge of a target, with
// a step over it tried from each.
func overEdge(t *testing.T, seed uint64, visit func(w *workspace)) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(34, seed))
	for visited := 0; visited < 200; {
		list := samples.Palette(m.Len(), 3, 3, rng)
		start := []float64{rng.Float64(), rng.Float64(), rng.Float64()}
		normalise(start)
		w.begin(colour.Lab{}, set.Of(m.Len(), list...))
		w.list, w.amount = append(w.list[:0], list...), append(w.amount[:0], start...)
		w.evaluate()
		mix := w.here.Lab.LCh()
		target := colour.LCh{L: mix.L + 10*rng.NormFloat64(), C: 20 + 50*rng.Float64(), H: mix.H + 170 + 20*rng.Float64()}.Lab()
		w.head(target)
		w.careful = true
		for i := range w.step[:3] {
			w.step[i] = 0.05 * rng.NormFloat64()
		}
		if w.tryStep(); w.aim.Crosses(w.aimNext) && w.aimNext.Along < 0 {
			visit(w)
			visited++
		}
	}
}

// A step over the edge is shortened to end just before it when that is nearer, and
// else left as it was.
func TestStopBefore(t *testing.T) {
	stopped := 0
	overEdge(t, 2, func(w *workspace) {
		over, step := w.aimNext.Squared, slices.Clone(w.step[:3])
		w.stopBefore()
		switch {
		case w.aimNext.Squared > over:
			t.Errorf("from %g over the edge at %g to %g", w.aim.Squared, over, w.aimNext.Squared)
		case w.aim.Crosses(w.aimNext):
			if !slices.Equal(w.step[:3], step) || w.aimNext.Squared != over {
				t.Errorf("another step over the edge: %v, was %v", w.step[:3], step)
			}
		default:
			if stopped++; !w.aimNext.Within(0.05) || w.aimNext.Within(offEdge) {
				t.Errorf("stops at a turn with the tangent %g", w.aimNext.Cross/w.aimNext.Along)
			}
		}
	})
	if stopped < 50 {
		t.Errorf("only %d stopped", stopped)
	}
}

// What left the edge comes back to it, to the angle asked for; and a hop ends just
// beyond it and nearer, or nowhere else.
func TestTurnToAndHop(t *testing.T) {
	back, hops := 0, 0
	overEdge(t, 3, func(w *workspace) {
		w.slopes.Fill(w.here, &w.m.optics, w.aim)
		w.deriveTurn()
		side := math.Copysign(1, w.aim.Cross)
		if w.turnTo(-2 * offEdge) {
			back++
			if left := beyondEdge(w.aimNext, side); math.Abs(left+2*offEdge) > offEdge/2 {
				t.Errorf("back at the edge, but %g beyond it", left)
			}
		}
		squared := w.aim.Squared
		w.hop()
		switch beyond := beyondEdge(w.aim, side); {
		case w.aim.Squared > squared:
			t.Errorf("a hop from %g to %g", squared, w.aim.Squared)
		case w.aim.Squared < squared:
			if hops++; math.Abs(beyond-2*offEdge) > offEdge/2 {
				t.Errorf("a hop to %g beyond the edge", beyond)
			}
		}
	})
	t.Logf("%d of 200 back at the edge, %d hops", back, hops)
	if back < 100 || hops < 20 {
		t.Error("too few")
	}
}

// The measure of the way beyond the edge is the angle where that is small, grows with
// it all round, and is 1 for a right angle.
func TestBeyondEdge(t *testing.T) {
	last := -3.0
	for angle := -3.1; angle < 3.1; angle += 0.01 {
		f := kernel.Residual{Along: -math.Cos(angle), Cross: -math.Sin(angle)}
		got := beyondEdge(&f, 1)
		if got <= last {
			t.Fatalf("%g at an angle of %g, %g before", got, angle, last)
		}
		if math.Abs(angle) < 0.02 && math.Abs(got-angle) > 1e-3 {
			t.Errorf("%g at an angle of %g", got, angle)
		}
		last = got
	}
	if got := beyondEdge(&kernel.Residual{Along: 1e-17, Cross: -1}, 1); math.Abs(got-1) > 1e-9 {
		t.Errorf("%g at a right angle", got)
	}
}

// Questions whose nearest mix is found in one way alone: along the edge, far from where
// their pairs cross it; by a descent that stops before it; from a pair with little of a
// third paint; by way of all but grey.
func TestNearestAtTheEdge(t *testing.T) {
	tubes, byLimit := tubeMixers(t)
	for _, q := range []asked{
		{3, []int{7, 47, 57}, colour.Lab{L: 84.712214, A: 14.953473, B: -17.464587}},
		{4, []int{7, 47, 57, 75, 77}, colour.Lab{L: 84.712214, A: 14.953473, B: -17.464587}},
		{3, []int{44, 58, 77}, colour.Lab{L: 32.77067, A: 24.046292, B: 11.927465}},
		{3, []int{10, 36, 44}, colour.Lab{L: 33.889301, A: 34.626741, B: -67.47085}},
		{3, []int{10, 36, 44}, colour.Lab{L: 41.460216, A: 39.73819, B: 29.042701}},
	} {
		best := newLattice(selected(tubes, q.palette)).nearest(q.target, q.limit, rand.New(rand.NewPCG(34, 4)))
		if mix := byLimit[q.limit].Closest(q.target, set.Of(len(tubes), q.palette...), Search); mix.DE > best.de+nearestSlack {
			t.Errorf("at most %d of %v: %.4f, the reference %.4f", q.limit, q.palette, mix.DE, best.de)
		}
	}
}
