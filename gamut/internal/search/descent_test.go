package search

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"

	"gonum.org/v1/gonum/mat"
)

// The 3x3 system against gonum's.
func TestSolveNormal(t *testing.T) {
	w := newWorkspace(acrylicMixer(t))
	rng := rand.New(rand.NewPCG(33, 1))
	for range 300 {
		w.list = append(w.list[:0], 0, 1, 2, 3)[:1+rng.IntN(4)]
		damping := math.Exp(4 * rng.NormFloat64())
		normal := mat.NewDense(3, 3, []float64{damping, 0, 0, 0, damping, 0, 0, 0, damping})
		for i := range w.list {
			w.free[i] = rng.IntN(4) > 0
			for k := range w.jac[i] {
				w.jac[i][k] = 10 * rng.NormFloat64()
			}
			if w.free[i] {
				j := mat.NewVecDense(3, w.jac[i][:])
				normal.RankOne(normal, 1, j, j)
			}
		}
		r := [3]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		got := w.solveNormal(r, damping)
		var want mat.VecDense
		if err := want.SolveVec(normal, mat.NewVecDense(3, r[:])); err != nil {
			t.Fatal(err)
		}
		for k := range got {
			if math.Abs(got[k]-want.AtVec(k)) > 1e-6*mat.Norm(&want, 2) {
				t.Errorf("%v, want %v", got, want.RawVector().Data)
			}
		}
	}
}

// No step leaves amounts below nothing, and what it promises is the residual it
// would leave, less than there was but for a few where paints are held at nothing
// that should not be.
func TestSolveStep(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(33, 2))
	worse := 0
	for range 500 {
		w.begin(samples.Mix(m, set.Full(m.Len()).Members(), rng), set.Full(m.Len()))
		w.list = append(w.list[:0], samples.Palette(m.Len(), 4, 4, rng)...)
		w.amount = append(w.amount[:0], rng.Float64(), rng.Float64(), 0, 1e-3)
		normalise(w.amount)
		w.evaluate()
		w.slopes.Fill(w.here, &m.optics, w.aim)
		trace := 0.0
		for i, p := range w.list {
			w.slopes.By(&w.jac[i], &m.bands[p])
			trace += kernel.Dot(w.jac[i], w.jac[i])
		}
		promised := w.solveStep(1e-3 * trace)
		left := w.aim.R
		for i, c := range w.amount {
			if c+w.step[i] < -1e-15 {
				t.Fatalf("amount %g, step %g", c, w.step[i])
			}
			for k := range left {
				left[k] += w.jac[i][k] * w.step[i]
			}
		}
		if math.Abs(promised-kernel.Dot(left, left)) > 1e-9*w.aim.Squared {
			t.Errorf("promised %g, leaves %g", promised, kernel.Dot(left, left))
		}
		if promised > w.aim.Squared {
			worse++
		}
	}
	t.Logf("%d of 500 promise worse", worse)
	if worse > 10 {
		t.Error("too many")
	}
}

// A descent never ends farther off, and where it ends no small change of one
// amount comes nearer by what would be worth a step.
func TestDescentEndsAtTheBottom(t *testing.T) {
	m := acrylicMixer(t)
	w := newWorkspace(m)
	rng := rand.New(rand.NewPCG(33, 3))
	asked, open := 0, 0
	for asked < 300 {
		list := samples.Palette(m.Len(), 2, 4, rng)
		w.begin(samples.Mix(m, set.Full(m.Len()).Members(), rng), set.Of(m.Len(), list...))
		w.list, w.amount = append(w.list[:0], list...), w.amount[:0]
		for range list {
			w.amount = append(w.amount, 1/float64(len(list)))
		}
		w.evaluate()
		before := w.aim.Squared
		w.descend(fullLook)
		if w.aim.Squared > before {
			t.Fatalf("%v: from %g to %g", list, before, w.aim.Squared)
		}
		if w.aim.Squared > 15*15 { // beyond, edges stop it
			continue
		}
		asked++
		at := math.Sqrt(w.aim.Squared)
		for i := range w.amount {
			for _, by := range []float64{-1e-3, 1e-3} {
				c := w.amount[i]
				w.amount[i] = max(0, c+by*max(c, 0.01))
				w.evaluate()
				if math.Sqrt(w.aim.Squared) < at-10*leastGain {
					open++
				}
				w.amount[i] = c
			}
		}
	}
	t.Logf("%d of %d could go on", open, asked)
	if open > asked/20 {
		t.Error("too many")
	}
}
