package search

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

var update = flag.Bool("update", false, "write the reference table of the closest mix again")

const referencePath = "../../testdata/closest.csv"

// question is a palette, a target and the exhaustive reference for them.
type question struct {
	palette []int
	target  colour.Lab
	best    float64 // CIEDE2000 of the nearest mix
}

// exhaustive is the reference for the closest mix: every support of the
// palette of as many paints as a mix may hold, descended from at least
// perSupport random starts, and at least 200 in all. It uses neither the bank
// nor the search over supports.
func exhaustive(m *Paints, target colour.Lab, palette []int, perSupport int, rng *rand.Rand) float64 {
	w := newWorkspace(m)
	w.begin(target, set.Of(m.Len(), palette...))
	size := min(m.limit, len(palette))
	supports := 0
	samples.EachSupport(palette, size, func([]int) { supports++ })
	starts := max(perSupport, (200+supports-1)/supports)
	best := math.Inf(1)
	samples.EachSupport(palette, size, func(support []int) {
		for range starts {
			w.list = append(w.list[:0], support...)
			w.amount = append(make([]float64, 0, m.limit+1), make([]float64, size)...)
			samples.Sparse(rng, w.amount)
			w.evaluate()
			w.descendUntil(leastGain/10, 100)
			best = min(best, w.aim.Squared)
		}
	})
	return math.Sqrt(best)
}

// makeQuestions draws palettes of 3 to 10 paints. Half the targets are mixes of
// the palette; the other half are mixes of all paints that the palette misses
// by 0.5 to 15: farther off CIEDE2000 is full of edges (see edge.go), and
// TestClosestFarOff takes over.
func makeQuestions(m *Paints, n int, rng *rand.Rand) []question {
	all := set.Full(m.Len()).Members()
	var out []question
	for len(out) < n/2 {
		p := samples.Palette(m.Len(), 3, 10, rng)
		out = append(out, question{p, samples.Mix(m, p, rng), 0})
	}
	for len(out) < n {
		p := samples.Palette(m.Len(), 3, 10, rng)
		target := samples.Mix(m, all, rng)
		if best := exhaustive(m, target, p, 4, rng); best >= 0.5 && best <= 15 {
			out = append(out, question{p, target, best})
		}
	}
	return out
}

func writeQuestions(t *testing.T, questions []question) {
	var b strings.Builder
	b.WriteString("# Palettes of the paints of acrylics.csv (indices), targets, and the CIEDE2000 of the nearest mix of at most four paints\n")
	b.WriteString("# by the exhaustive search of reference_test.go; written by go test -run ClosestAgainstReference -update.\n")
	b.WriteString("palette,l,a,b,best\n")
	for _, q := range questions {
		fmt.Fprintf(&b, "%s,%.9g,%.9g,%.9g,%.6f\n", strings.Trim(fmt.Sprint(q.palette), "[]"), q.target.L, q.target.A, q.target.B, q.best)
	}
	if err := os.WriteFile(referencePath, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

func readQuestions(t testing.TB) (out []question) {
	for _, row := range figures.Rows(t, referencePath) {
		var q question
		for _, s := range strings.Fields(row[0]) {
			i, err := strconv.Atoi(s)
			if err != nil {
				t.Fatal(err)
			}
			q.palette = append(q.palette, i)
		}
		var v [4]float64
		for k := range v {
			var err error
			if v[k], err = strconv.ParseFloat(row[1+k], 64); err != nil {
				t.Fatal(err)
			}
		}
		q.target, q.best = colour.Lab{L: v[0], A: v[1], B: v[2]}, v[3]
		out = append(out, q)
	}
	return out
}

// 1,000 palettes and targets against the exhaustive reference.
func TestClosestAgainstReference(t *testing.T) {
	m := acrylicMixer(t)
	if *update {
		writeQuestions(t, makeQuestions(m, 1000, rand.New(rand.NewPCG(2016, 6))))
	}
	questions := readQuestions(t)
	if len(questions) != 1000 {
		t.Fatalf("%d questions", len(questions))
	}
	for _, c := range []struct {
		effort                Effort
		mostWorse, mostFarOff int // by over 0.05, by over 0.3
	}{{Search, 0, 0}, {Verdict, 0, 0}} {
		worse, farOff, worst := 0, 0, 0.0
		for _, q := range questions {
			loss := m.Closest(q.target, set.Of(m.Len(), q.palette...), c.effort).DE - q.best
			worst = max(worst, loss)
			if loss > 0.05 {
				worse++
			}
			if loss > 0.3 {
				farOff++
			}
			if loss < -0.05 && *update {
				t.Logf("the reference for %v is beaten by %.3f", q, -loss)
			}
		}
		t.Logf("%v: %d of 1000 worse by over 0.05, %d by over 0.3, worst %.3f", c.effort, worse, farOff, worst)
		if worse > c.mostWorse || farOff > c.mostFarOff {
			t.Errorf("%v: allowed are %d and %d", c.effort, c.mostWorse, c.mostFarOff)
		}
	}
}

// Fewer paints in a mix against the same reference.
func TestFewerPaintsPerMix(t *testing.T) {
	paints := acrylics(t)
	rng := rand.New(rand.NewPCG(15, 16))
	for _, limit := range []int{1, 2, 3} {
		m := dry(paints, limit)
		asked, worse, worst := 0, 0, 0.0
		for asked < 150 {
			p := samples.Palette(m.Len(), 4, 8, rng)
			target := samples.Mix(m, p, rng)
			best := exhaustive(m, target, p, 4, rng)
			if best > 15 {
				continue
			}
			asked++
			loss := m.Closest(target, set.Of(m.Len(), p...), Search).DE - best
			worst = max(worst, loss)
			if loss > 0.05 {
				worse++
			}
		}
		t.Logf("at most %d paints: %d of %d worse by over 0.05, worst %.3f", limit, worse, asked, worst)
		if worse > 1 || worst > 0.5 {
			t.Errorf("at most %d paints: too many", limit)
		}
	}
}

// Targets missed by more than 15: a search that ends beside an edge of
// CIEDE2000 may be some units worse, seldom.
func TestClosestFarOff(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(3, 14))
	seen, farOff, worst := 0, 0, 0.0
	for seen < 200 {
		p := samples.Palette(m.Len(), 3, 6, rng)
		target := colour.SRGB{R: rng.Float64(), G: rng.Float64(), B: rng.Float64()}.Lab()
		mix := m.Closest(target, set.Of(m.Len(), p...), Search)
		if mix.DE <= 15 {
			continue
		}
		seen++
		loss := mix.DE - exhaustive(m, target, p, 4, rng)
		worst = max(worst, loss)
		if loss > 0.3 {
			farOff++
		}
	}
	t.Logf("%d of %d worse by over 0.3, worst %.2f", farOff, seen, worst)
	if farOff > seen*4/100 || worst > 6 {
		t.Error("too many")
	}
}

// The table itself is checked by a fresh exhaustive search of its start.
func TestReferenceTable(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(11, 12))
	for _, q := range readQuestions(t)[480:540] {
		if len(q.palette) > 7 {
			continue
		}
		if again := exhaustive(m, q.target, q.palette, 8, rng); math.Abs(again-q.best) > 0.01 {
			t.Errorf("%v to %v: %.4f, table %.4f", q.palette, q.target, again, q.best)
		}
	}
}

// Starts without end or kick: more of them never end farther off, and eight
// nearly always suffice.
func TestClosestFrom(t *testing.T) {
	m := acrylicMixer(t)
	far := 0
	for _, q := range readQuestions(t) {
		palette := set.Of(m.Len(), q.palette...)
		two, eight := m.ClosestFrom(q.target, palette, 2), m.ClosestFrom(q.target, palette, 8)
		if eight.DE > two.DE+alikeSquares || eight.DE < q.best-0.05 {
			t.Errorf("%v: %.4f from two starts, %.4f from eight", q, two.DE, eight.DE)
		}
		if eight.DE > q.best+0.05 {
			far++
		}
	}
	t.Logf("%d of 1000 farther by over 0.05", far)
	if far > 10 {
		t.Error("too many")
	}
}
