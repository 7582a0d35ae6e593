package certain_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"sync/atomic"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/certain"
	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// acrylics are the 19 paints of R. S. Berns, "Artist Paint Spectral Database",
// CIC24, 2016.
func acrylics(t testing.TB) []film.Paint {
	t.Helper()
	_, paints := samples.Acrylics(t, "../testdata/acrylics.csv")
	return paints
}

func pick(rng *rand.Rand, all []film.Paint, n int) (some []film.Paint) {
	for _, i := range rng.Perm(len(all))[:n] {
		some = append(some, all[i])
	}
	return some
}

// farCase is a set of paints and a colour that a search without a limit of
// paints per mix gets no nearer to than the tolerance and a margin.
type farCase struct {
	paints      []film.Paint
	target      colour.Lab
	tol, margin float64
	near        colour.Lab
}

func drawFar(t testing.TB, rng *rand.Rand, all []film.Paint, n int, effort gamut.Effort) farCase {
	t.Helper()
	for {
		c := farCase{paints: pick(rng, all, n), margin: 0.15 + rng.Float64()}
		c.target = colour.Lab{L: 25 + 60*rng.Float64(), A: 60*rng.Float64() - 30, B: 70*rng.Float64() - 25}
		m, err := gamut.NewMixer(c.paints, gamut.Options{Surface: film.Dry, PaintsPerMix: -1})
		if err != nil {
			t.Fatal(err)
		}
		mix := m.Closest(c.target, set.Full(n), effort)
		c.near, c.tol = mix.Lab, mix.DE-c.margin
		if c.tol >= 1 && c.tol <= 4 {
			return c
		}
	}
}

func TestFarTargetsAreCertified(t *testing.T) {
	all, rng := acrylics(t), rand.New(rand.NewPCG(7, 2))
	for _, n := range []int{4, 6, 6, 8} {
		c := drawFar(t, rng, all, n, gamut.Search)
		got, err := certain.Unreachable(context.Background(), c.paints, film.Dry, colour.D65(), c.target, c.tol, certain.Options{Near: []colour.Lab{c.near}})
		if err != nil {
			t.Fatal(err)
		}
		if got.Verdict != certain.Certified {
			t.Errorf("%d paints, margin %.2f: %v after %d cells", n, c.margin, got.Verdict, got.Cells)
			continue
		}
		if err := got.Certificate.Verify(context.Background()); err != nil {
			t.Errorf("%d paints, margin %.2f: %v", n, c.margin, err)
		}
		t.Logf("%d paints, margin %.2f: %d cells, %d pivots, %d steps", n, c.margin, got.Cells, got.Pivots, len(got.Certificate.Steps))
	}
}

// TestNoSearchContradicts starts ten thousand blind descents at each of three
// certified colours, certified close to the nearest mix known.
func TestNoSearchContradicts(t *testing.T) {
	all, rng := acrylics(t), rand.New(rand.NewPCG(6, 6))
	for range 3 {
		c := drawFar(t, rng, all, 5+rng.IntN(3), gamut.Search)
		tol := c.tol + c.margin - 0.1
		got, err := certain.Unreachable(context.Background(), c.paints, film.Dry, colour.D65(), c.target, tol, certain.Options{Cells: 200, Near: []colour.Lab{c.near}})
		if err != nil {
			t.Fatal(err)
		}
		best := math.Inf(1)
		for range 10_000 {
			best = min(best, descend(rng, c.paints, c.target))
		}
		if got.Verdict == certain.Certified && best <= tol {
			t.Errorf("certified beyond %g, found at %g", tol, best)
		}
		t.Logf("%v at %.3f, blind descents %.3f, search %.3f", got.Verdict, tol, best, tol+0.1)
	}
}

// descend is the CIEDE2000 that a few random changes of a random mix come to.
func descend(rng *rand.Rand, paints []film.Paint, target colour.Lab) float64 {
	var mix film.Paint
	de := func(c []float64) float64 {
		film.Mix(&mix, paints, c)
		seen := mix.Masstone(film.Dry)
		return colour.DE2000(colour.D65().Lab(&seen), target)
	}
	c := make([]float64, len(paints))
	for i := range c {
		c[i] = math.Exp(2 * rng.NormFloat64())
	}
	best := de(c)
	for range 12 {
		i := rng.IntN(len(c))
		was := c[i]
		if c[i] *= math.Exp(2 * rng.NormFloat64()); rng.IntN(4) == 0 {
			c[i] = 0
		}
		if d := de(c); d < best {
			best = d
		} else {
			c[i] = was
		}
	}
	return best
}

// TestReachedIsNeverCertified asks about colours a hair within the tolerance of
// a mix of the paints: the truth is known by construction.
func TestReachedIsNeverCertified(t *testing.T) {
	all, rng := acrylics(t), rand.New(rand.NewPCG(7, 5))
	count := map[certain.Verdict]int{}
	for range 12 {
		paints := pick(rng, all, 3+rng.IntN(10))
		tol := 0.5 + 2*rng.Float64()
		target := beside(rng, mixed(rng, paints), tol-0.01)
		got, err := certain.Unreachable(context.Background(), paints, film.Dry, colour.D65(), target, tol, certain.Options{Cells: 12})
		if err != nil {
			t.Fatal(err)
		}
		if got.Verdict == certain.Certified {
			t.Errorf("%d paints, %v within %g: certified", len(paints), target, tol)
		}
		if got.Verdict == certain.Refuted {
			checkMix(t, paints, target, tol, got)
		}
		count[got.Verdict]++
	}
	t.Log(count)
}

// TestEdgeIsNeverCertified asks about far colours with a tolerance that the
// nearest mix found meets by a hair: only a sure bound holds back there.
func TestEdgeIsNeverCertified(t *testing.T) {
	all, rng := acrylics(t), rand.New(rand.NewPCG(4, 5))
	for range 6 {
		c := drawFar(t, rng, all, 3+rng.IntN(6), gamut.Search)
		tol := c.tol + c.margin + 0.005
		got, err := certain.Unreachable(context.Background(), c.paints, film.Dry, colour.D65(), c.target, tol, certain.Options{Cells: 40, Near: []colour.Lab{c.near}})
		if err != nil {
			t.Fatal(err)
		}
		if got.Verdict == certain.Certified {
			t.Errorf("%d paints, %v within %g: certified", len(c.paints), c.target, tol)
		}
	}
}

// mixed is the colour of a random mix of up to four paints.
func mixed(rng *rand.Rand, paints []film.Paint) colour.Lab {
	c := make([]float64, len(paints))
	for range 1 + rng.IntN(4) {
		c[rng.IntN(len(c))] = rng.ExpFloat64()
	}
	var mix film.Paint
	film.Mix(&mix, paints, c)
	seen := mix.Masstone(film.Dry)
	return colour.D65().Lab(&seen)
}

// beside is a colour at most de from c, in a random direction.
func beside(rng *rand.Rand, c colour.Lab, de float64) colour.Lab {
	d := colour.Lab{L: rng.NormFloat64(), A: rng.NormFloat64(), B: rng.NormFloat64()}
	out := c
	for k := 0.0; ; k += 0.002 {
		x := colour.Lab{L: c.L + k*d.L, A: c.A + k*d.A, B: c.B + k*d.B}
		if colour.DE2000(x, c) > de {
			return out
		}
		out = x
	}
}

func checkMix(t *testing.T, paints []film.Paint, target colour.Lab, tol float64, got *certain.Result) {
	t.Helper()
	sum := 0.0
	for _, s := range got.Shares {
		sum += s
	}
	var mix film.Paint
	film.Mix(&mix, paints, got.Shares)
	seen := mix.Masstone(film.Dry)
	if de := colour.DE2000(colour.D65().Lab(&seen), target); de > tol || math.Abs(sum-1) > 1e-12 {
		t.Errorf("refuted by a mix of %g at %g, tolerance %g", sum, de, tol)
	}
}

// TestSameCertificateForAnyWorkers asks one question on one processor and on several.
func TestSameCertificateForAnyWorkers(t *testing.T) {
	c := drawFar(t, rand.New(rand.NewPCG(8, 7)), acrylics(t), 9, gamut.Search)
	var first string
	for _, workers := range []int{1, 1, 2, 3, 8} {
		before := runtime.GOMAXPROCS(workers)
		got, err := certain.Unreachable(context.Background(), c.paints, film.Dry, colour.D65(), c.target, c.tol, certain.Options{Near: []colour.Lab{c.near}})
		runtime.GOMAXPROCS(before)
		if err != nil || got.Certificate == nil {
			t.Fatalf("%v, %v", got, err)
		}
		var text bytes.Buffer
		if err := got.Certificate.Write(&text); err != nil {
			t.Fatal(err)
		}
		if first == "" {
			first = text.String()
			t.Logf("%d cells, %d bytes", got.Cells, len(first))
		}
		if text.String() != first {
			t.Errorf("%d workers: another certificate", workers)
		}
	}
}

func picked(t *testing.T, which ...int) (out []film.Paint) {
	all := acrylics(t)
	for _, i := range which {
		out = append(out, all[i])
	}
	return out
}

// TestEveryLight certifies, and verifies, one colour under each light: a blue
// beyond a white, a yellow and an earth, by more than any light can make up for.
func TestEveryLight(t *testing.T) {
	paints := picked(t, 0, 5, 10, 15)
	for _, light := range []*colour.Light{colour.D65(), colour.D50(), colour.A()} {
		c := farUnder(t, paints, light)
		got, err := certain.Unreachable(context.Background(), paints, film.Dry, light, c.target, c.tol, certain.Options{Near: []colour.Lab{c.near}})
		if err != nil {
			t.Fatal(err)
		}
		if got.Verdict != certain.Certified || got.Certificate.Light != light.Name {
			t.Errorf("%s, margin %.2f: %v", light.Name, c.margin, got.Verdict)
			continue
		}
		if err := got.Certificate.Verify(context.Background()); err != nil {
			t.Errorf("%s: %v", light.Name, err)
		}
		other := *got.Certificate
		if other.Light = "D65"; light == colour.D65() {
			other.Light = "A"
		}
		if err := other.Verify(context.Background()); !errors.Is(err, check.ErrProof) {
			t.Errorf("a proof under %s said to be under %s: %v", light.Name, other.Light, err)
		}
	}
}

// farUnder is a violet blue and the tolerance that the nearest mix misses by half a unit.
func farUnder(t *testing.T, paints []film.Paint, light *colour.Light) farCase {
	t.Helper()
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: film.Dry, Light: light, PaintsPerMix: -1})
	if err != nil {
		t.Fatal(err)
	}
	c := farCase{target: colour.Lab{L: 45}, margin: 0.5}
	for ; ; c.target.A, c.target.B = c.target.A+0.5, c.target.B-1 {
		mix := m.Closest(c.target, set.Full(len(paints)), gamut.Search)
		if c.near, c.tol = mix.Lab, mix.DE-c.margin; c.tol > 1.5 {
			return c
		}
	}
}

// asked is a context that ends after it was asked so often.
type asked struct {
	context.Context
	left, over atomic.Int64
}

func (a *asked) Err() error {
	if a.left.Add(-1) >= 0 {
		return nil
	}
	a.over.Add(1)
	return context.Canceled
}

// TestStopsSoon holds that a search looks at its context all the time, and that
// little is done once it has ended. Looks, not times: between two of them lie at
// most four linear programs or 64 boxes of colours.
func TestStopsSoon(t *testing.T) {
	const most = 100 // looks after the end
	for _, after := range []int64{3, 30, 300, 1000} {
		ctx := &asked{Context: context.Background()}
		ctx.left.Store(after)
		got, err := certain.Unreachable(ctx, acrylics(t), film.Dry, colour.D65(), colour.Lab{L: 50, A: 40, B: -40}, 2, certain.Options{})
		if err != nil || got.Verdict != certain.Open {
			t.Fatalf("after %d looks: %v, %v", after, got, err)
		}
		if n := ctx.over.Load(); n < 1 || n > most {
			t.Errorf("after %d looks: %d more", after, n)
		}
	}
}

func TestQuestionsWithoutMeaning(t *testing.T) {
	paints := acrylics(t)[:3]
	for what, ask := range map[string]func() (*certain.Result, error){
		"no paints": func() (*certain.Result, error) {
			return certain.Unreachable(context.Background(), nil, film.Dry, colour.D65(), colour.Lab{L: 50}, 2, certain.Options{})
		},
		"no tolerance": func() (*certain.Result, error) {
			return certain.Unreachable(context.Background(), paints, film.Dry, colour.D65(), colour.Lab{L: 50}, 0, certain.Options{})
		},
		"not a colour": func() (*certain.Result, error) {
			return certain.Unreachable(context.Background(), paints, film.Dry, colour.D65(), colour.Lab{L: math.NaN()}, 2, certain.Options{})
		},
		"the region of another tolerance": func() (*certain.Result, error) {
			region, err := certain.NewRegion(context.Background(), colour.Lab{L: 50}, colour.D65(), 1)
			if err != nil {
				return nil, err
			}
			return certain.Unreachable(context.Background(), paints, film.Dry, colour.D65(), colour.Lab{L: 50}, 2, certain.Options{Region: region})
		},
	} {
		if _, err := ask(); !errors.Is(err, certain.ErrQuestion) {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestWideTolerancesMayHaveNoBound(t *testing.T) {
	got, err := certain.Unreachable(context.Background(), acrylics(t)[:1], film.Dry, colour.D65(), colour.Lab{L: 95, B: 5}, 20, certain.Options{})
	if err != nil || got.Verdict != certain.Unbounded || got.Certificate != nil {
		t.Errorf("%v, %v", got, err)
	}
}

func TestStopsWhenToldTo(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	got, err := certain.Unreachable(ctx, acrylics(t), film.Dry, colour.D65(), colour.Lab{L: 50, A: 60, B: -60}, 2, certain.Options{})
	if err != nil || got.Verdict != certain.Open {
		t.Errorf("%v, %v", got, err)
	}
}

// A question that would take thousands of cells gets as many as it is given, and
// no more.
func TestCellsAreCounted(t *testing.T) {
	target, light := colour.Lab{L: 50, A: 10, B: -30}, colour.D65()
	region, err := certain.NewRegion(context.Background(), target, light, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	for _, cells := range []int{1, 2, 6, 7} {
		got, err := certain.Unreachable(context.Background(), acrylics(t), film.Dry, light, target, 0.5, certain.Options{Cells: cells, Region: region})
		if err != nil || got.Verdict != certain.Open || got.Cells != cells {
			t.Errorf("of %d cells: %+v, %v", cells, got, err)
		}
	}
}

func ExampleUnreachable() {
	// a white and a black of level spectra mix greys, and a rust red is no grey
	white, black := film.Paint{}, film.Paint{}
	for b := range colour.Bands {
		white.K[b], white.S[b] = 0.003, 1
		black.K[b], black.S[b] = 2, 0.1
	}
	rust := colour.Lab{L: 45, A: 25, B: 25}
	got, err := certain.Unreachable(context.Background(), []film.Paint{white, black}, film.Dry, colour.D65(), rust, 2, certain.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(got.Verdict, got.Certificate.Verify(context.Background()))
	// Output: certified <nil>
}
