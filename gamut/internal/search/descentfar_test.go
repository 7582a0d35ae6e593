package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// A careful descent ends no farther off than it began, and where it ends trial without
// slopes seldom leads on; a plain descent far from its target stops short more often.
func TestDescendFar(t *testing.T) {
	tubes, byLimit := tubeMixers(t)
	m := byLimit[3]
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(40, 1))
	short := map[bool]int{}
	for range 150 {
		list := samples.Palette(m.Len(), 3, 3, rng)
		start := make([]float64, 3)
		samples.Sparse(rng, start)
		target := colour.LCh{L: 100 * rng.Float64(), C: 30 + 50*rng.Float64(), H: 360 * rng.Float64()}.Lab()
		l := newLattice(selected(tubes, list))
		for _, careful := range []bool{false, true} {
			w.begin(target, set.Of(m.Len(), list...))
			w.careful = careful
			w.list, w.amount = append(w.list[:0], list...), append(w.amount[:0], start...)
			w.evaluate()
			before := w.aim.Squared
			w.descend(fullLook)
			if w.aim.Squared > before {
				t.Errorf("%v: from %g to %g", list, before, w.aim.Squared)
			}
			end := math.Sqrt(w.aim.Squared)
			best := found{de: end}
			try := &walk{lattice: l, support: &lattices{paints: []int{0, 1, 2}}, target: target, best: &best, rng: rng}
			logs := make([]float64, 2)
			for i := range logs {
				logs[i] = math.Log(max(w.amount[i+1], 1e-6) / max(w.amount[0], 1e-6))
			}
			try.follow(slices.Clone(logs), 0.01, try.at)
			if best.de < end-nearestSlack {
				short[careful]++
			}
		}
	}
	t.Logf("of 150, %d careful descents stop short, %d plain ones", short[true], short[false])
	if short[true] > 5 || short[false] < 2*short[true]+3 {
		t.Error("care makes no difference, or is not enough")
	}
}

// Without damping a step may take away every paint at once: it is damped instead of
// ending the descent.
func TestDescendFarFromAStepToNothing(t *testing.T) {
	_, byLimit := tubeMixers(t)
	w := newWorkspace(byLimit[4])
	w.begin(colour.Lab{L: 11.340492, A: 46.297574, B: 25.678293}, set.Of(byLimit[4].Len(), 7, 48, 61, 76))
	w.careful = true
	w.list, w.amount = append(w.list[:0], 61, 48, 7, 76), append(w.amount[:0], 0.8267, 0.0067, 0.0833, 0.0833)
	w.evaluate()
	w.slopes.Fill(w.here, &w.m.optics, w.aim)
	w.solveStep(1e-6 * w.derive())
	if !w.leavesNothing() {
		t.Fatal("the step leaves something")
	}
	before := w.aim.Squared
	w.descend(fullLook)
	if w.aim.Squared > before/2 {
		t.Errorf("from %g to %g", before, w.aim.Squared)
	}
}
