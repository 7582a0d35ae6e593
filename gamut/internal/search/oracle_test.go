package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"

	"gonum.org/v1/gonum/optimize"
)

// simplex is the nearest mix of exactly these paints by gonum's Nelder-Mead
// from several starts, on the logarithms of the shares, by the plain film
// model: nothing of the search takes part.
func simplex(m *Paints, target colour.Lab, paints []int, starts int, rng *rand.Rand) float64 {
	shares := make([]float64, len(paints))
	problem := optimize.Problem{Func: func(x []float64) float64 {
		for i := range shares {
			shares[i] = math.Exp(min(max(x[i], -30), 30))
		}
		return colour.DE2000(m.Evaluate(paints, shares), target)
	}}
	best := math.Inf(1)
	for range starts {
		x := make([]float64, len(paints))
		for i := range x {
			x[i] = 2 * rng.NormFloat64()
		}
		r, err := optimize.Minimize(problem, x, &optimize.Settings{FuncEvaluations: 500}, &optimize.NelderMead{})
		if r != nil && (err == nil || r.F < best) {
			best = min(best, r.F)
		}
	}
	return best
}

func TestClosestAgainstNelderMead(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(91, 92))
	asked, equal := 0, 0
	for _, q := range readQuestions(t)[500:] {
		if len(q.palette) < 4 || len(q.palette) > 6 || asked == 24 {
			continue
		}
		asked++
		other := math.Inf(1)
		samples.EachSupport(q.palette, 4, func(s []int) { other = min(other, simplex(m, q.target, s, 4, rng)) })
		ours := m.Closest(q.target, set.Of(m.Len(), q.palette...), Search).DE
		if ours > other+searchSlack {
			t.Errorf("%v to %v: %.4f, Nelder-Mead finds %.4f", q.palette, q.target, ours, other)
		}
		if math.Abs(ours-other) < searchSlack {
			equal++
		}
	}
	t.Logf("%d asked, %d equal, in the others Nelder-Mead stays behind", asked, equal)
	if equal < asked/2 {
		t.Error("the two seldom agree: one of them is not minimising")
	}
}
