package colour

import (
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/gamut/figures"

	"github.com/lucasb-eyer/go-colorful"
	"pgregory.net/rapid"
)

// sharmaTolerance is the rounding of the published table (four decimals) with
// the largest error a correct double-precision code shows on it.
const sharmaTolerance = 5.1e-5

// The 34 pairs of Sharma, Wu, Dalal, Color Res. Appl. 30:21-30, 2005, table 1.
func TestDE2000Published(t *testing.T) {
	rows := figures.Rows(t, "testdata/ciede2000_pairs.csv")
	if len(rows) != 34 {
		t.Fatalf("%d pairs, want 34", len(rows))
	}
	for i, row := range rows {
		var v [7]float64
		for k, s := range row {
			v[k] = figures.Number(t, s)
		}
		p, q := Lab{v[0], v[1], v[2]}, Lab{v[3], v[4], v[5]}
		for _, got := range []float64{DE2000(p, q), DE2000(q, p)} {
			if math.Abs(got-v[6]) > sharmaTolerance {
				t.Errorf("pair %d: %.6f, want %.4f", i+1, got, v[6])
			}
		}
	}
}

// Exactly opposite hues: eq. 14 takes half the sum below 360 degrees, in
// whichever order the pair comes, also where atan2 would round the tie away.
func TestDE2000OppositeHues(t *testing.T) {
	for _, c := range []struct{ a, b, k float64 }{
		{2.49, -0.001, 1}, {3, 4, 1}, {-0.1, 0.3, 7}, {1e-3, 5, 2}, {10, 0, 1}, {0, 10, 0.5},
	} {
		p, q := Lab{50, c.a, c.b}, Lab{50, -c.k * c.a, -c.k * c.b}
		if there, back := DE2000(p, q), DE2000(q, p); there != back {
			t.Errorf("%v %v: %v one way, %v the other", p, q, there, back)
		}
	}
}

func TestDE2000Properties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawLab(t, "p"), drawLab(t, "q")
		d := DE2000(p, q)
		if math.IsNaN(d) || d < 0 {
			t.Fatalf("DE2000(%v, %v) = %v", p, q, d)
		}
		if back := DE2000(q, p); math.Abs(d-back) > 1e-12*(1+d) {
			t.Fatalf("%v %v: %v one way, %v the other", p, q, d, back)
		}
		if same := DE2000(p, p); same != 0 {
			t.Fatalf("DE2000(%v, itself) = %v", p, same)
		}
	})
}

// CIEDE2000 is not a metric: the straight way can be longer than a detour, so
// nothing may prune by the triangle inequality.
func TestDE2000NoTriangleInequality(t *testing.T) {
	p, q, r := Lab{50, 0, 0}, Lab{50, 40, 0}, Lab{50, 80, 0}
	if direct, detour := DE2000(p, r), DE2000(p, q)+DE2000(q, r); direct > detour {
		t.Errorf("along the chroma axis: %v direct, %v by the middle", direct, detour)
	}
	p, q, r = Lab{0, 0, 0}, Lab{50, 0, 0}, Lab{100, 0, 0}
	if direct, detour := DE2000(p, r), DE2000(p, q)+DE2000(q, r); direct <= detour {
		t.Errorf("along the greys: %v direct should exceed %v by the middle", direct, detour)
	}
}

// What is not a number stays not a number; nothing turns into a small difference.
func TestDE2000NotFinite(t *testing.T) {
	good := Lab{50, 10, 10}
	for _, bad := range []Lab{
		{math.NaN(), 0, 0}, {50, math.NaN(), 0}, {50, 0, math.NaN()},
		{math.Inf(1), 0, 0}, {math.Inf(-1), 0, 0}, {50, math.Inf(1), 0}, {50, 0, math.Inf(-1)},
	} {
		for _, d := range []float64{DE2000(good, bad), DE2000(bad, good), DE2000(bad, bad)} {
			if !math.IsNaN(d) && !math.IsInf(d, 1) {
				t.Errorf("%v: %v", bad, d)
			}
		}
		if bad.Finite() {
			t.Errorf("%v is called finite", bad)
		}
	}
	if !good.Finite() {
		t.Errorf("%v is not called finite", good)
	}
}

// go-colorful v1.4.1 is an independent code (its scale is 1/100). It decides
// exactly opposite hues differently (pair 10 of the table), so hues within a
// hair of opposite are left out.
func TestDE2000AgainstGoColorful(t *testing.T) {
	rng := rand.New(rand.NewPCG(20, 26))
	for range 20000 {
		p := LCh{100 * rng.Float64(), 120 * rng.Float64(), 360 * rng.Float64()}
		q := LCh{100 * rng.Float64(), 120 * rng.Float64(), 360 * rng.Float64()}
		if math.Abs(math.Abs(p.H-q.H)-180) < 1 {
			continue
		}
		a, b := p.Lab(), q.Lab()
		ca := colorful.Lab(a.L/100, a.A/100, a.B/100)
		cb := colorful.Lab(b.L/100, b.A/100, b.B/100)
		// Its colours are sRGB: read them back so that both codes see the same Lab.
		a.L, a.A, a.B = scaled(ca.Lab())
		b.L, b.A, b.B = scaled(cb.Lab())
		got, want := DE2000(a, b), 100*ca.DistanceCIEDE2000(cb)
		if math.Abs(got-want) > 1e-9 {
			t.Fatalf("%v %v: %v, go-colorful has %v", a, b, got, want)
		}
	}
}

func scaled(l, a, b float64) (float64, float64, float64) { return 100 * l, 100 * a, 100 * b }

func BenchmarkDE2000(b *testing.B) {
	p, q := Lab{52, 12, 30}, Lab{48, -9, 41}
	for b.Loop() {
		DE2000(p, q)
	}
}
