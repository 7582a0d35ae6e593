package search

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"sync"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

const (
	verdictsPath = "../../testdata/verdicts.csv"
	tubesPath    = "../../testdata/tubes.csv"
	cataloguedAt = "../../../catalog/data/film.csv"

	mostVerdicts = 2000
	// surely is how far the nearest mix is from the tolerance at least: nearer,
	// the table itself would be in question.
	surely = 0.002
)

// verdict is a palette, a target near the edge of its reach, a tolerance, and
// the truth.
type verdict struct {
	question
	tolerance float64
}

// onTheEdge draws a palette of 2 to 12 tubes, a tolerance, and a target that a
// search puts within half a unit of that tolerance: on the way from a mix of
// the palette to a colour beyond it, a mix of all tubes or any colour of sRGB.
func onTheEdge(m *Paints, rng *rand.Rand) verdict {
	for {
		v := verdict{tolerance: []float64{0.5, 1, 2, 3, 5}[rng.IntN(5)]}
		v.palette = samples.Palette(m.Len(), 2, 12, rng)
		palette := set.Of(m.Len(), v.palette...)
		from, to := samples.Mix(m, v.palette, rng), samples.Mix(m, set.Full(m.Len()).Members(), rng)
		if rng.IntN(2) == 0 {
			to = colour.SRGB{R: rng.Float64(), G: rng.Float64(), B: rng.Float64()}.Lab()
		}
		wanted := max(0.01, v.tolerance+rng.Float64()-0.5)
		lo, hi := 0.0, 1.0
		at := func(s float64) colour.Lab {
			return colour.Lab{L: from.L + s*(to.L-from.L), A: from.A + s*(to.A-from.A), B: from.B + s*(to.B-from.B)}
		}
		if m.Closest(to, palette, Search).DE < wanted {
			continue
		}
		for range 20 {
			mid := (lo + hi) / 2
			if m.Closest(at(mid), palette, Search).DE < wanted {
				lo = mid
			} else {
				hi = mid
			}
		}
		v.target = rounded(at(hi))
		return v
	}
}

func rounded(c colour.Lab) colour.Lab {
	r := func(x float64) float64 { return math.Round(x*1e6) / 1e6 }
	return colour.Lab{L: r(c.L), A: r(c.A), B: r(c.B)}
}

// densely is the nearest mix by every support of four paints of the palette,
// each descended from a grid of starts (every division of its simplex into eighths
// that leaves some of each) and from as many at random near its faces, at least
// 2,000 in all.
func densely(m *Paints, v *verdict, rng *rand.Rand) float64 {
	best := exhaustive(m, v.target, v.palette, 35, rng)
	w := newWorkspace(m)
	w.begin(v.target, set.Of(m.Len(), v.palette...))
	size := min(m.limit, len(v.palette))
	supports := 0
	samples.EachSupport(v.palette, size, func([]int) { supports++ })
	best = min(best, exhaustive(m, v.target, v.palette, 2000/supports, rng))
	samples.EachSupport(v.palette, size, func(support []int) {
		parts := make([]float64, size)
		eachDivision(parts, 0, 8, func() {
			w.list = append(w.list[:0], support...)
			w.amount = append(w.amount[:0], parts...)
			normalise(w.amount)
			w.evaluate()
			w.descendUntil(leastGain/10, 100)
			best = min(best, math.Sqrt(w.aim.Squared))
		})
	})
	return best
}

// eachDivision visits the whole parts, at least one each, of a total.
func eachDivision(parts []float64, at, left int, visit func()) {
	if at == len(parts)-1 {
		parts[at] = float64(left)
		visit()
		return
	}
	for n := 1; n <= left-(len(parts)-at-1); n++ {
		parts[at] = float64(n)
		eachDivision(parts, at+1, left-n, visit)
	}
}

// writeVerdicts makes the table of tubes as they are catalogued and 2,000
// verdicts from it, each from a seed of its own.
func writeVerdicts(t *testing.T) {
	text, err := os.ReadFile(cataloguedAt)
	if err != nil {
		t.Fatal(err)
	}
	text = append([]byte("# The built-in tubes as they were when verdicts.csv was made from them; its palettes are lines of this table, by pairs.\n"), text...)
	if err := os.WriteFile(tubesPath, text, 0o644); err != nil {
		t.Fatal(err)
	}
	m := dry(samples.Tubes(t, tubesPath), 4)
	verdicts := make([]verdict, mostVerdicts)
	var wg sync.WaitGroup
	for g := range 2 {
		wg.Go(func() {
			for i := g; i < len(verdicts); i += 2 {
				rng := rand.New(rand.NewPCG(2000, uint64(i)))
				for v := &verdicts[i]; ; {
					*v = onTheEdge(m, rng)
					dense, searched := densely(m, v, rng), m.Closest(v.target, set.Of(m.Len(), v.palette...), Verdict).DE
					if searched < dense-1e-4 {
						t.Logf("a search beats the table by %.4f: %v", dense-searched, v)
					}
					v.best = min(dense, searched)
					if math.Abs(v.best-v.tolerance) > surely {
						break
					}
				}
			}
		})
	}
	wg.Wait()
	var b strings.Builder
	b.WriteString("# Palettes of tubes of tubes.csv, targets at the edge of their reach, a tolerance, and the CIEDE2000 of the nearest mix of at most\n")
	b.WriteString("# four tubes: every support from 70 starts and more (densely in verdicts_test.go), or a search at verdict effort where that is nearer\n")
	b.WriteString("# (at the making of 25 November 2026 it never was by 1e-4). Written by go test ./gamut/internal/search -run Verdicts -update -timeout 0.\n")
	b.WriteString("palette,l,a,b,tolerance,best\n")
	for _, v := range verdicts {
		fmt.Fprintf(&b, "%s,%.6f,%.6f,%.6f,%g,%.5f\n", strings.Trim(fmt.Sprint(v.palette), "[]"), v.target.L, v.target.A, v.target.B, v.tolerance, v.best)
	}
	if err := os.WriteFile(verdictsPath, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

func readVerdicts(t testing.TB) (out []verdict) {
	for _, row := range figures.Rows(t, verdictsPath) {
		var v verdict
		for _, p := range figures.Numbers(t, strings.Fields(row[0])) {
			v.palette = append(v.palette, int(p))
		}
		n := figures.Numbers(t, row[1:])
		v.target, v.tolerance, v.best = colour.Lab{L: n[0], A: n[1], B: n[2]}, n[3], n[4]
		out = append(out, v)
	}
	return out
}

// No verdict on 2,000 targets at the edge of reach is wrong.
func TestVerdictsAgainstExhaustive(t *testing.T) {
	if *update {
		writeVerdicts(t)
	}
	verdicts := readVerdicts(t)
	if len(verdicts) != mostVerdicts {
		t.Fatalf("%d verdicts", len(verdicts))
	}
	m := dry(samples.Tubes(t, tubesPath), 4)
	for _, effort := range []Effort{Quick, Search, Verdict} {
		reached, wrong, worst := 0, 0, 0.0
		for _, v := range verdicts {
			mix, got := m.Within(v.target, set.Of(m.Len(), v.palette...), v.tolerance, effort)
			want := v.best <= v.tolerance
			if want {
				reached++
			}
			if got == want {
				continue
			}
			wrong++
			worst = max(worst, mix.DE-v.best)
			if got || effort != Quick {
				t.Errorf("%v, %v to %v within %g: %v at %.4f, the table has %.4f", effort, v.palette, v.target, v.tolerance, got, mix.DE, v.best)
			}
		}
		t.Logf("%v: %d of %d wrong, by up to %.3f; %d are reached", effort, wrong, len(verdicts), worst, reached)
	}
}

// The table's truth comes from our own descent; gonum's Nelder-Mead, which
// shares nothing with it, finds the same where palettes are small enough.
func TestVerdictTableByNelderMead(t *testing.T) {
	m := dry(samples.Tubes(t, tubesPath), 4)
	rng := rand.New(rand.NewPCG(93, 94))
	asked, equal := 0, 0
	for _, v := range readVerdicts(t) {
		if len(v.palette) > 4 || asked == 60 {
			continue
		}
		asked++
		other := simplex(m, v.target, v.palette, 8, rng)
		if other < v.best-1e-3 {
			t.Errorf("%v to %v: table %.4f, Nelder-Mead finds %.4f", v.palette, v.target, v.best, other)
		}
		if other < v.best+0.01 {
			equal++
		}
	}
	t.Logf("%d asked, %d equal, in the others Nelder-Mead stays behind", asked, equal)
	if equal < asked*3/4 {
		t.Error("the two seldom agree: one of them is not minimising")
	}
}
