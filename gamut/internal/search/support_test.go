package search

import (
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// The paint that enters brings the mix nearer by the plain film model, and one
// that would is not overlooked.
func TestEntering(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(37, 1))
	entered := 0
	for range 300 {
		members := samples.Palette(m.Len(), 4, 9, rng)
		target := samples.Mix(m, set.Full(m.Len()).Members(), rng)
		w.begin(target, set.Of(m.Len(), members...))
		w.list = append(w.list[:0], members[:2]...)
		w.amount = append(w.amount[:0], 0.5, 0.5)
		w.evaluate()
		w.descend(fullLook)
		w.dropNothing()
		if w.aim.Squared < met || w.aim.Squared > 15*15 || w.aim.Along < 0 { // edges of CIEDE2000
			continue
		}
		gain := func(p int) float64 {
			const h = 1e-6
			list, amounts := append([]int{p}, w.list...), []float64{h / m.scale[p]}
			for i, q := range w.list {
				amounts = append(amounts, w.amount[i]/m.scale[q])
			}
			with := colour.DE2000(m.Evaluate(list, amounts), target)
			return (colour.DE2000(m.Evaluate(list[1:], amounts[1:]), target) - with) / h
		}
		got := w.entering()
		if got >= 0 {
			entered++
			if w.inSupport(got) || gain(got) < 0 {
				t.Errorf("%v: %d enters a mix of %v and gains %g", members, got, w.list, gain(got))
			}
		}
		for _, p := range members {
			if got < 0 && !w.inSupport(p) && gain(p) > 1 {
				t.Errorf("%v: none enters, %d would gain %g", members, p, gain(p))
			}
		}
	}
	if entered < 50 {
		t.Errorf("only %d entered", entered)
	}
}

// A paint of five too many goes; which, leaves the nearest of what four can do
// from there.
func TestLeaveOneOut(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(37, 2))
	for range 100 {
		list := samples.Palette(m.Len(), 5, 5, rng)
		start := make([]float64, 5)
		samples.Sparse(rng, start)
		w.begin(samples.Mix(m, list, rng), set.Of(m.Len(), list...))
		w.list, w.amount = append(w.list[:0], list...), append(w.amount[:0], start...)
		w.evaluate()
		w.leaveOneOut()
		got := w.aim.Squared
		if len(w.list) > 4 {
			t.Fatalf("%d paints", len(w.list))
		}
		for i := range list {
			w.list, w.amount = append(w.list[:0], list...), append(w.amount[:0], start...)
			w.dropAt(i)
			w.evaluate()
			w.descend(fullLook)
			if w.aim.Squared < got-1e-9 {
				t.Errorf("%v without %d: %g, left out for %g", list, list[i], w.aim.Squared, got)
			}
		}
	}
}

func TestDropNothing(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	w.begin(colour.Lab{L: 50}, set.Full(m.Len()))
	w.list, w.amount = append(w.list[:0], 3, 5, 8), append(w.amount[:0], 0.5, 0, 0.5)
	w.evaluate()
	w.dropNothing()
	want := m.Evaluate([]int{3, 8}, []float64{0.5 / m.scale[3], 0.5 / m.scale[8]})
	if len(w.list) != 2 || w.list[0] != 3 || w.list[1] != 8 || distance76(w.here.Lab, want) > 1e-9 {
		t.Errorf("%v at %v, want %v", w.list, w.here.Lab, want)
	}
}

// Only the same paints at the same difference count as an end met before.
func TestSettledBefore(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	w.begin(colour.Lab{L: 50}, set.Full(m.Len()))
	w.list, w.amount = append(w.list[:0], 3, 5), append(w.amount[:0], 0.5, 0.5)
	w.evaluate()
	w.noteSettled()
	end := w.aim.Squared
	for _, c := range []struct {
		list    []int
		squared float64
		want    bool
	}{
		{[]int{3, 5}, end, true}, {[]int{5, 3}, end * 1.0005, true}, {[]int{3, 5}, end * 1.01, false},
		{[]int{3, 6}, end, false}, {[]int{3}, end, false}, {[]int{3, 5, 6}, end, false},
	} {
		w.list, w.aim.Squared = append(w.list[:0], c.list...), c.squared
		if got := w.settledBefore(); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	w.begin(colour.Lab{L: 60}, set.Full(m.Len()))
	w.list, w.aim.Squared = append(w.list[:0], 3, 5), end
	if w.settledBefore() {
		t.Error("ends outlive their target")
	}
	for range 2 * mostSettled { // more than there is room for
		w.noteSettled()
	}
}
