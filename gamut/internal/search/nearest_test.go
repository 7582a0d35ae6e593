package search

import (
	"fmt"
	"math/rand/v2"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// nearestSlack is how much farther than the reference a search may end, CIEDE2000.
const nearestSlack = 0.02

// asked is a question for the nearest mix of at most limit of the tubes of
// tubes.csv.
type asked struct {
	limit   int
	palette []int
	target  colour.Lab
}

// questionsOf are eight questions about one seeded palette: of one to four paints in
// a mix, with targets that it mixes, that all tubes together mix, any colour of sRGB,
// and colours of any lightness with little chroma more often than with much, where
// the difference is most uneven.
func questionsOf(m *Paints, seed uint64, largest int) (palette []int, questions []asked) {
	rng := rand.New(rand.NewPCG(2027, seed))
	palette = samples.Palette(m.Len(), 2, largest, rng)
	for len(questions) < 8 {
		q := asked{limit: 1 + rng.IntN(4), palette: palette}
		switch rng.IntN(4) {
		case 0:
			q.target = samples.Mix(m, palette, rng)
		case 1:
			q.target = samples.Mix(m, set.Full(m.Len()).Members(), rng)
		case 2:
			q.target = colour.SRGB{R: rng.Float64(), G: rng.Float64(), B: rng.Float64()}.Lab()
		default:
			q.target = colour.LCh{L: 100 * rng.Float64(), C: 80 * rng.Float64() * rng.Float64(), H: 360 * rng.Float64()}.Lab()
		}
		q.target = rounded(q.target)
		questions = append(questions, q)
	}
	return palette, questions
}

func tubeMixers(t testing.TB) (tubes []film.Paint, byLimit [5]*Paints) {
	tubes = samples.Tubes(t, tubesPath)
	for limit := 1; limit < len(byLimit); limit++ {
		byLimit[limit] = dry(tubes, limit)
	}
	return tubes, byLimit
}

// The nearest mix is the nearest: no search ends behind an exhaustive reference.
// FEWTUBES_NEAREST=20000 asks so many, about palettes of up to eight tubes and each tenth
// of up to twelve.
func TestNearest(t *testing.T) {
	palettes, largest := 40, func(uint64) int { return 6 }
	if many := os.Getenv("FEWTUBES_NEAREST"); many != "" {
		n, err := strconv.Atoi(many)
		if err != nil {
			t.Fatal(err)
		}
		palettes, largest = n/8, func(seed uint64) int {
			if seed%10 == 0 {
				return 12
			}
			return 8
		}
	}
	tubes, byLimit := tubeMixers(t)
	var mu sync.Mutex
	var asked, behind, referenceBehind int
	one := func(seed uint64) {
		palette, questions := questionsOf(byLimit[4], seed, largest(seed))
		l := newLattice(selected(tubes, palette))
		rng := rand.New(rand.NewPCG(2028, seed))
		for _, q := range questions {
			best := l.nearest(q.target, q.limit, rng)
			mix := byLimit[q.limit].Closest(q.target, set.Of(len(tubes), palette...), Search)
			mu.Lock()
			asked++
			if mix.DE > best.de+nearestSlack {
				behind++
				t.Errorf("at most %d of %v to %v: %.4f, the reference %.4f", q.limit, palette, q.target, mix.DE, best.de)
			} else if best.de > mix.DE+nearestSlack {
				referenceBehind++
			}
			mu.Unlock()
		}
	}
	seeds := make(chan uint64)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for seed := range seeds {
				one(seed)
			}
		})
	}
	for seed := range uint64(palettes) {
		seeds <- seed
		if seed%100 == 99 {
			t.Logf("%d of %d palettes begun", seed+1, palettes)
		}
	}
	close(seeds)
	wg.Wait()
	t.Logf("%d asked: %d behind the reference by over %g, it behind in %d", asked, behind, nearestSlack, referenceBehind)
	if referenceBehind > asked/200 {
		t.Error("the reference is too weak to judge by")
	}
}

const (
	hardPath = "../../testdata/nearest.csv"
	mostHard = 400
)

// hard are questions of TestNearest that plain starts answer with a mix farther off than
// a search does, with the reference's answer.
type hard struct {
	asked
	best float64
}

func writeHard(t *testing.T) {
	tubes, byLimit := tubeMixers(t)
	var b strings.Builder
	b.WriteString("# Questions about palettes of tubes of tubes.csv (lines, by pairs) which 24 starts without more answer wrongly: the most paints in a\n")
	b.WriteString("# mix, the palette, the target, and the CIEDE2000 of the nearest mix by the reference of lattice_test.go; written by\n")
	b.WriteString("# go test -run NearestWhereHard -update.\n")
	b.WriteString("limit,palette,l,a,b,best\n")
	found := 0
	for seed := uint64(0); found < mostHard; seed++ {
		palette, questions := questionsOf(byLimit[4], seed, 12)
		l := newLattice(selected(tubes, palette))
		for _, q := range questions {
			m, held := byLimit[q.limit], set.Of(len(tubes), palette...)
			if m.ClosestFrom(q.target, held, 24).DE < m.Closest(q.target, held, Search).DE+nearestSlack || found == mostHard {
				continue
			}
			found++
			best := l.nearest(q.target, q.limit, rand.New(rand.NewPCG(2028, seed)))
			fmt.Fprintf(&b, "%d,%s,%.9g,%.9g,%.9g,%.6f\n", q.limit, strings.Trim(fmt.Sprint(palette), "[]"), q.target.L, q.target.A, q.target.B, best.de)
		}
	}
	if err := os.WriteFile(hardPath, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

func readHard(t testing.TB) (out []hard) {
	for _, row := range figures.Rows(t, hardPath) {
		v := figures.Numbers(t, append([]string{row[0]}, row[2:]...))
		q := hard{asked{limit: int(v[0]), target: colour.Lab{L: v[1], A: v[2], B: v[3]}}, v[4]}
		for _, i := range figures.Numbers(t, strings.Fields(row[1])) {
			q.palette = append(q.palette, int(i))
		}
		out = append(out, q)
	}
	return out
}

// Where plain starts fail, searches at either effort end no farther off than the
// reference.
func TestNearestWhereHard(t *testing.T) {
	if *update {
		writeHard(t)
	}
	questions := readHard(t)
	if len(questions) != mostHard {
		t.Fatalf("%d questions", len(questions))
	}
	tubes, byLimit := tubeMixers(t)
	for _, q := range questions {
		for _, effort := range []Effort{Search, Verdict} {
			if mix := byLimit[q.limit].Closest(q.target, set.Of(len(tubes), q.palette...), effort); mix.DE > q.best+nearestSlack {
				t.Errorf("%v, at most %d of %v to %v: %.4f, the reference %.4f", effort, q.limit, q.palette, q.target, mix.DE, q.best)
			}
		}
	}
}

func selected(tubes []film.Paint, places []int) []film.Paint {
	out := make([]film.Paint, len(places))
	for i, k := range places {
		out[i] = tubes[k]
	}
	return out
}
