package certain

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// invented are paints of random smooth spectra, for measuring only.
func invented(rng *rand.Rand, n int) []film.Paint {
	out := make([]film.Paint, n)
	for i := range out {
		a, b, c := 2*rng.NormFloat64()-2, rng.NormFloat64(), 4*rng.Float64()
		for k := range colour.Bands {
			x := float64(k)/colour.Bands - 0.5
			out[i].K[k] = math.Exp(a + 3*b*x + math.Sin(6*x+c))
			out[i].S[k] = math.Exp(-1 + 0.5*math.Sin(3*x-c))
		}
	}
	return out
}

// programs are the linear programs of one cell: the largest q in every band.
func programs(tb testing.TB, n int) (*simplex, *limits) {
	tb.Helper()
	paints := invented(rand.New(rand.NewPCG(1, 2)), n)
	target := colour.Lab{L: 50, A: 10, B: 10}
	region, err := NewRegion(context.Background(), target, colour.D65(), 2)
	if err != nil {
		tb.Fatal(err)
	}
	p := newCone(paints, film.Dry, colour.D65(), region.faces)
	l, _ := p.whole()
	x := &simplex{p: p, enough: 1e-5}
	x.begin(&l)
	return x, &l
}

// BenchmarkSimplex solves the programs of the cell of all mixes of 30 paints.
func BenchmarkSimplex(b *testing.B) {
	x, l := programs(b, 30)
	for b.Loop() {
		x.begin(l)
		for k := range bands {
			x.maximise(x.p.k[k], x.p.s[k])
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*bands), "us/program")
}

// BenchmarkLibrarySimplex hands the same programs, with the rows that the last
// of them ended with, to gonum's simplex.
func BenchmarkLibrarySimplex(b *testing.B) {
	x, _ := programs(b, 30)
	for k := range bands {
		x.maximise(x.p.k[k], x.p.s[k])
	}
	failed := 0
	for b.Loop() {
		for k := range bands {
			if _, err := library(x, x.p.k[k], x.p.s[k]); err != nil {
				failed++
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N*bands), "us/program")
	b.ReportMetric(float64(failed)/float64(b.N), "failures/cell")
}

// library bounds f.c with g.c = 1 over all limits of the cell and the cuts made
// so far by gonum's solver. It is given the dual, which has one equation per
// paint: least theta with theta g - sum lambda row - z = f, lambda, z >= 0.
func library(x *simplex, f, g []float64) (float64, error) {
	var rows []row
	for b := range bands {
		for _, kind := range []check.Row{check.MostR, check.LeastR, check.MostS, check.LeastS} {
			rows = append(rows, row{kind, b})
		}
	}
	for j := range x.cuts {
		rows = append(rows, row{check.CutRow, j})
	}
	n, m := x.p.n, len(rows)
	a := mat.NewDense(n, 2+m+n, nil)
	cost := make([]float64, 2+m+n)
	cost[0], cost[1] = 1, -1
	for i := range n {
		a.Set(i, 0, g[i])
		a.Set(i, 1, -g[i])
		for r, w := range rows {
			a.Set(i, 2+r, -x.at(w, i))
		}
		a.Set(i, 2+m+i, -1)
	}
	v, _, err := lp.Simplex(cost, a, f, 1e-9, nil)
	return v, err
}

// TestSimplexAgreesWithLibrary holds the bounds against gonum's solver over the
// same limits and cuts, where that finds an answer.
func TestSimplexAgreesWithLibrary(t *testing.T) {
	const close = 1e-4 // relative: cuts are made only where one is missed by 1e-5 in colour
	x, _ := programs(t, 8)
	compared := 0
	for k := 0; k < bands; k += 3 {
		f, g := x.p.k[k], x.p.s[k]
		for x.maximise(f, g) == optimal && len(x.cuts) < 200 {
			n := len(x.cuts)
			x.maximise(f, g)
			if len(x.cuts) == n {
				break
			}
		}
		ours := x.theta
		theirs, err := library(x, f, g)
		switch {
		case err != nil:
			t.Logf("band %d: gonum: %v", k, err)
		case math.Abs(ours-theirs) > close*math.Abs(theirs):
			t.Errorf("band %d: %g, gonum %g", k, ours, theirs)
		default:
			compared++
		}
	}
	if compared < 4 {
		t.Errorf("only %d programs compared", compared)
	}
	t.Logf("%d programs agree", compared)
}
