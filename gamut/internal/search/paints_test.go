package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// The search's own film and difference against packages film and colour.
func TestKernelAgainstFilm(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(1, 1))
	w := newWorkspace(m)
	for range 500 {
		p := samples.Palette(m.Len(), 2, 4, rng)
		target := colour.Lab{L: 100 * rng.Float64(), A: 40 * rng.NormFloat64(), B: 40 * rng.NormFloat64()}
		w.begin(target, set.Full(m.Len()))
		w.list, w.amount = append(w.list[:0], p...), w.amount[:0]
		volume := make([]float64, len(p))
		for i, k := range p {
			volume[i] = rng.ExpFloat64()
			w.amount = append(w.amount, volume[i]*m.scale[k])
		}
		w.evaluate()
		want := m.Evaluate(p, volume)
		if distance76(w.here.Lab, want) > 1e-10 {
			t.Fatalf("%v: %v, want %v", p, w.here.Lab, want)
		}
		const rotation = 1e-6 // RT is interpolated
		if got, want := math.Sqrt(w.aim.Squared), colour.DE2000(want, target); math.Abs(got-want) > rotation {
			t.Fatalf("difference %v, want %v", got, want)
		}
	}
}

// The slopes against central differences, away from the jumps of CIEDE2000.
func TestSlopes(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(5, 1))
	w := newWorkspace(m)
	for range 500 {
		w.begin(samples.Mix(m, set.Full(m.Len()).Members(), rng), set.Full(m.Len()))
		w.list = append(w.list[:0], samples.Palette(m.Len(), 4, 4, rng)...)
		w.amount = append(w.amount[:0], rng.Float64(), rng.Float64(), rng.Float64(), rng.Float64())
		w.evaluate()
		if w.aim.Along < 0 && math.Abs(w.aim.Cross) < -0.1*w.aim.Along {
			continue
		}
		w.slopes.Fill(w.here, &m.optics, w.aim)
		for i, p := range w.list {
			var got [3]float64
			w.slopes.By(&got, &m.bands[p])
			h := 1e-5 * w.amount[i]
			var side [2][3]float64
			for k, s := range []float64{1, -1} {
				w.amount[i] += s * h
				w.evaluate()
				side[k] = w.aim.R
				w.amount[i] -= s * h
			}
			for k := range got {
				if want := (side[0][k] - side[1][k]) / (2 * h); math.Abs(got[k]-want) > 1e-3+1e-5*math.Abs(want) {
					t.Errorf("residual %d by paint %d: %v, want %v", k, p, got[k], want)
				}
			}
			w.evaluate()
		}
	}
}

// Within says the same as Closest.
func TestWithinAgrees(t *testing.T) {
	m := acrylicMixer(t)
	for _, q := range readQuestions(t)[400:600] {
		palette := set.Of(m.Len(), q.palette...)
		mix := m.Closest(q.target, palette, Search)
		for _, tolerance := range []float64{0.5, 1, 2, 4} {
			if near, ok := m.Within(q.target, palette, tolerance, Search); ok != (mix.DE <= tolerance) || (ok && near.DE > tolerance) {
				t.Errorf("%v: within %g %v at %.4f, closest %.4f", q, tolerance, ok, near.DE, mix.DE)
			}
		}
	}
}

// searchSlack is what a search may lose, in CIEDE2000, seldom: see
// TestClosestAgainstReference.
const searchSlack = 0.05

func TestMorePaintsNeverHurt(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(21, 22))
	for range 300 {
		p := samples.Palette(m.Len(), 3, 9, rng)
		target := samples.Mix(m, set.Full(m.Len()).Members(), rng)
		palette := set.Of(m.Len(), p...)
		before := m.Closest(target, palette, Verdict).DE
		palette.Add(rng.IntN(m.Len()))
		if after := m.Closest(target, palette, Verdict).DE; before < 15 && after > before+searchSlack {
			t.Errorf("%v to %v: %.3f, with one more %.3f", p, target, before, after)
		}
	}
}

// The order of paints and the common scale of one paint's K and S (its
// dilution with clear medium) change nothing that can be reached.
func TestOrderAndScaleChangeNothing(t *testing.T) {
	paints := acrylics(t)
	m := dry(paints, 4)
	rng := rand.New(rand.NewPCG(31, 32))
	for range 100 {
		order := rng.Perm(m.Len())
		other := make([]film.Paint, m.Len())
		for to, from := range order {
			other[to] = paints[from]
			factor := math.Exp(rng.NormFloat64())
			for b := range other[to].K {
				other[to].K[b] *= factor
				other[to].S[b] *= factor
			}
		}
		n := dry(other, 4)
		target := samples.Mix(m, order, rng)
		p, q := set.New(m.Len()), set.New(m.Len())
		for to, from := range order[:4+rng.IntN(6)] {
			p.Add(from)
			q.Add(to)
		}
		a, b := m.Closest(target, p, Search).DE, n.Closest(target, q, Search).DE
		if min(a, b) < 15 && math.Abs(a-b) > searchSlack {
			t.Errorf("%v: %.4f, in other order and scale %.4f", target, a, b)
		}
	}
}

func TestClosestDoesNotAllocateInside(t *testing.T) {
	m := acrylicMixer(t)
	palette := set.Of(m.Len(), 0, 3, 8, 15, 16)
	target := colour.Lab{L: 40, A: 30, B: 10}
	w := newWorkspace(m)
	if n := testing.AllocsPerRun(20, func() {
		w.begin(target, palette)
		w.run(palette, 0, Search)
	}); n != 0 {
		t.Errorf("%v allocations in a search", n)
	}
}
