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

// Likeness against masstones and tints worked out by the plain film model.
func TestAlike(t *testing.T) {
	m := acrylicMixer(t)
	all := set.Full(m.Len()).Members()
	lightest := slices.MaxFunc(all, func(i, j int) int {
		return int(math.Copysign(1, m.Evaluate([]int{i}, []float64{1}).L-m.Evaluate([]int{j}, []float64{1}).L))
	})
	gap := func(i, j int) float64 {
		tint := func(p int) colour.Lab {
			return m.Evaluate([]int{lightest, p}, []float64{(1 - tintShare) / m.scale[lightest], tintShare / m.scale[p]})
		}
		return distance76(m.Evaluate([]int{i}, []float64{1}), m.Evaluate([]int{j}, []float64{1})) + distance76(tint(i), tint(j))
	}
	for _, i := range all {
		order := m.Alike(i)
		if len(order) != m.Len()-1 || slices.Contains(order, i) {
			t.Fatalf("paint %d: %v", i, order)
		}
		for k := 1; k < len(order); k++ {
			if gap(i, order[k-1]) > gap(i, order[k])+1e-6 {
				t.Errorf("paint %d: %d comes before %d", i, order[k-1], order[k])
			}
		}
	}
}

// Settling never goes away from the target, and the answer is what its shares dry to.
func TestSettle(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(61, 62))
	for range 200 {
		paints := samples.Palette(m.Len(), 2, 4, rng)
		shares := make([]float64, len(paints))
		samples.Sparse(rng, shares)
		target := samples.Mix(m, set.Full(m.Len()).Members(), rng)
		mix := m.Settle(target, paints, shares)
		before := colour.DE2000(m.Evaluate(paints, shares), target)
		after := colour.DE2000(m.Evaluate(mix.Paints, mix.Shares), target)
		if after > before+traceCost || math.Abs(after-mix.DE) > 1e-9 || !set.Of(m.Len(), mix.Paints...).SubsetOf(set.Of(m.Len(), paints...)) {
			t.Errorf("%v %v to %v: %.4f before, %.4f after, %+v", paints, shares, target, before, after, mix)
		}
	}
}

// Where a palette misses without some paints, starting from them finds what a
// whole search finds, but for a few near the limit.
func TestWithinBy(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(63, 64))
	asked, lost := 0, 0
	for asked < 300 {
		palette := samples.Palette(m.Len(), 5, 9, rng)
		target := samples.Mix(m, palette, rng)
		some := palette[:2]
		if _, ok := m.Within(target, set.Of(m.Len(), palette[2:]...), 1, Search); ok {
			continue
		}
		asked++
		mix, ok := m.WithinBy(target, set.Of(m.Len(), palette...), some, 1)
		if ok != (colour.DE2000(m.Evaluate(mix.Paints, mix.Shares), target) <= 1) {
			t.Errorf("%v to %v: %v by %+v", palette, target, ok, mix)
		}
		if !ok {
			lost++
		}
	}
	t.Logf("%d of %d lost", lost, asked)
	if lost > asked*3/100 {
		t.Error("too many")
	}
}
