package gamut

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// bruteParts is the best difference of any division into at most most parts
// among exactly these paints, by the plain way.
func bruteParts(m *Mixer, target colour.Lab, paints []int, most int) float64 {
	best := math.Inf(1)
	amounts := make([]float64, len(paints))
	var rec func(i, left int)
	rec = func(i, left int) {
		if i == len(paints) {
			best = min(best, colour.DE2000(m.Evaluate(paints, amounts), target))
			return
		}
		for n := 1; n <= left-(len(paints)-i-1); n++ {
			amounts[i] = float64(n)
			rec(i+1, left-n)
		}
	}
	rec(0, most)
	return best
}

// bruteRecipe is the rule of Recipe over every subset of the paints.
func bruteRecipe(m *Mixer, target colour.Lab, paints []int, most int) (size int, de float64) {
	bySize := make([]float64, len(paints)+1)
	for k := 1; k <= len(paints); k++ {
		bySize[k] = math.Inf(1)
		samples.EachSupport(paints, k, func(s []int) { bySize[k] = min(bySize[k], bruteParts(m, target, s, most)) })
	}
	least := math.Inf(1)
	for _, d := range bySize[1:] {
		least = min(least, d)
	}
	for k, d := range bySize {
		if k > 0 && d <= least+worthAPaint {
			return k, d
		}
	}
	return 0, least
}

// Up to three paints no division is better; four may lose a little.
func TestRecipeAgainstBruteForce(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(41, 42))
	lost, worst, fours := 0, 0.0, 0
	for k := range 90 {
		n := min(2+k%5, 4)
		paints := samples.Palette(m.Len(), n, n, rng)
		target := samples.Mix(m, paints, rng)
		mix := m.Closest(target, set.Of(m.Len(), paints...), Search)
		if len(mix.Paints) == 4 {
			fours++
		}
		const most = DefaultPartsTotal
		r := m.Recipe(target, mix, most)
		size, de := bruteRecipe(m, target, mix.Paints, most)
		loss := r.DE - de
		if len(r.Paints) > size {
			loss = max(loss, 0)
		}
		if len(mix.Paints) <= 3 && (loss > 1e-9 || len(r.Paints) > size) {
			t.Errorf("%v: %+v, best %d paints at %.4f", target, r, size, de)
		}
		if loss > 0.05 {
			lost++
		}
		worst = max(worst, loss)
	}
	t.Logf("%d of 90 (%d of four paints) lose over 0.05, worst %.3f", lost, fours, worst)
	if lost > 2 || worst > 0.3 {
		t.Error("four paints lose too much to the shortlist")
	}
}

// Far from the target, too, no division of up to three paints is nearer than the one
// found.
func TestRecipeAgainstBruteForceFarOff(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(45, 2))
	for range 150 {
		paints := samples.Palette(m.Len(), 2, 3, rng)
		target := colour.LCh{L: 100 * rng.Float64(), C: 60 * rng.Float64(), H: 360 * rng.Float64()}.Lab()
		even := make([]float64, len(paints))
		for i := range even {
			even[i] = 1
		}
		got := colour.DE2000(m.Evaluate(paints, floats(m.search.Divide(target, paints, even, 12))), target)
		if best := bruteParts(m, target, paints, 12); got > best+1e-9 {
			t.Errorf("%v of %v: %.4f, best %.4f", target, paints, got, best)
		}
	}
}
