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

func TestKeepBetterCounts(t *testing.T) {
	w := newWorkspace(acrylicMixer(t))
	w.begin(colour.Lab{L: 50}, nil)
	for _, c := range []struct {
		best, now   float64
		again, want int
		taken       bool
	}{
		{4, 1, 5, 0, true},      // nearer: counting starts anew
		{4, 3.999, 5, 6, true},  // the same, a little nearer
		{4, 4.001, 5, 6, false}, // the same, a little farther
		{4, 9, 5, 5, false},     // another
		{math.Inf(1), 9, 0, 0, true},
	} {
		w.best.squared, w.aim.Squared = c.best, c.now
		if got := w.keepBetter(c.again); got != c.want || (w.best.squared == c.now) != c.taken {
			t.Errorf("%+v: %d, best %g", c, got, w.best.squared)
		}
	}
}

// The paint to kick in, by finite differences of the plain film model: per
// change of colour it takes the mix least away from the target.
func TestLeastUnwilling(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(36, 1))
	for range 100 {
		members := samples.Palette(m.Len(), 5, 9, rng)
		palette := set.Of(m.Len(), members...)
		w.begin(samples.Mix(m, set.Full(m.Len()).Members(), rng), palette)
		w.list = append(w.list[:0], members[:2]...)
		w.amount = append(w.amount[:0], 0.5, 0.5)
		w.evaluate()
		clear(w.kicked)
		w.kicked.Add(members[2])
		got := w.leastUnwilling()
		away := func(p int) float64 {
			const h = 1e-5
			f := kernel.NewResidual(w.aim.Target)
			list := []int{members[0], members[1], p}
			f.At(m.Evaluate(list, []float64{0.5 / m.scale[list[0]], 0.5 / m.scale[list[1]], h / m.scale[p]}))
			by := [3]float64{f.R[0] - w.aim.R[0], f.R[1] - w.aim.R[1], f.R[2] - w.aim.R[2]}
			return kernel.Dot(by, w.aim.R) / math.Sqrt(kernel.Dot(by, by))
		}
		for _, p := range members[3:] {
			if got < 0 || away(p) < away(got)-0.01*math.Sqrt(w.aim.Squared) {
				t.Errorf("%v: %d kicked, %d would be more willing", members, got, p)
			}
		}
	}
}

// Kicks end no farther off, and free some searches that are stuck.
func TestKickFrees(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	freed := 0
	for _, q := range readQuestions(t) {
		palette := set.Of(m.Len(), q.palette...)
		w.begin(q.target, palette)
		w.best.squared, w.enough = math.Inf(1), met
		w.alone()
		m.bank.collect(w, palette, 1)
		w.startFrom(w.seeds[:1], 1)
		before := w.best.squared
		w.kick(12)
		if w.best.squared > before {
			t.Fatalf("%v: from %g to %g", q, before, w.best.squared)
		}
		if math.Sqrt(before) > math.Sqrt(w.best.squared)+0.05 {
			freed++
		}
	}
	t.Logf("%d of 1000 freed after one start", freed)
	if freed == 0 {
		t.Error("a kick never helps")
	}
}

// Kicks remember: given enough of them, each paint of the palette ends in the best mix
// or has been tried.
func TestKickTriesEveryPaint(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(36, 2))
	for range 50 {
		palette := set.Of(m.Len(), samples.Palette(m.Len(), 6, 12, rng)...)
		w.begin(colour.LCh{L: 50, C: 90, H: 360 * rng.Float64()}.Lab(), palette) // out of reach
		w.best.squared, w.enough = math.Inf(1), met
		w.alone()
		w.kick(m.Len())
		w.restore(&w.best)
		for _, p := range w.members {
			if !w.inSupport(p) && !w.kicked.Has(p) {
				t.Errorf("of %v, %d is neither in the best mix %v nor was it kicked in", w.members, p, w.list)
			}
		}
	}
}
