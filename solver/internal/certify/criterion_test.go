package certify

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/certain"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// TestWhatHasRoomIsCertified holds certified verdicts to what they are for: on
// seeded failing sets of real tubes, half of 6 to 12 and half of 40 to 60, every
// colour that misses by more than 0.3 has to be certified within a budget; the rest
// may stay open. The budget is counted in pivots of the linear programs, some
// 7 microseconds each: 250 000 stand for 2 s on one core, 2 000 000 for 20 s. No
// blind search may contradict what is certified.
func TestWhatHasRoomIsCertified(t *testing.T) {
	for _, kind := range []struct {
		name          string
		least, most   int
		short, pivots int // cases of a short run; budget
		starts        int // of the search against it, in a short run
	}{
		{"small", 6, 12, 6, 250_000, 500},
		{"large", 40, 60, 3, 2_000_000, 200},
	} {
		t.Run(kind.name, func(t *testing.T) {
			n, starts := bounded.Cases(t, kind.short, 20), bounded.Cases(t, kind.starts, 10_000)
			var search, verify []float64
			certified := 0
			for i, c := range grown(t, 2026, n, kind.least, kind.most) {
				start := bounded.ProcessorTime().Seconds()
				got, err := certain.Unreachable(context.Background(), c.paints, film.Dry, colour.D65(), c.target, c.tolerance, certain.Options{Near: []colour.Lab{c.near}})
				if err != nil {
					t.Fatal(err)
				}
				search = append(search, bounded.ProcessorTime().Seconds()-start)
				t.Logf("%2d: %d tubes, margin %.3f: %v, %d cells, %d pivots, %.2f s", i, c.tubes, c.margin, got.Verdict, got.Cells, got.Pivots, search[i])
				if c.margin > 0.3 && (got.Verdict != certain.Certified || got.Pivots > kind.pivots) {
					t.Errorf("case %d, margin %.3f: %v after %d pivots, at most %d", i, c.margin, got.Verdict, got.Pivots, kind.pivots)
				}
				if got.Verdict != certain.Certified {
					continue
				}
				certified++
				start = bounded.ProcessorTime().Seconds()
				if err := got.Certificate.Verify(context.Background()); err != nil {
					t.Errorf("case %d: %v", i, err)
				}
				verify = append(verify, bounded.ProcessorTime().Seconds()-start)
				if best := c.blindly(starts); best <= c.tolerance {
					t.Errorf("case %d: certified beyond %g, found at %g", i, c.tolerance, best)
				}
			}
			t.Logf("%d of %d certified; processor seconds (least, median, most): %s, to verify %s", certified, n, threeOf(search), threeOf(verify))
		})
	}
}

func threeOf(seconds []float64) string {
	slices.Sort(seconds)
	return fmt.Sprintf("%.2f, %.2f, %.2f", seconds[0], seconds[len(seconds)/2], seconds[len(seconds)-1])
}

// blindly is the nearest that descents from random mixes of two to six of the
// paints come. It shares nothing with the search but the film model.
func (c *outOfReach) blindly(starts int) float64 {
	rng := rand.New(rand.NewPCG(10, uint64(c.tubes)))
	best := math.Inf(1)
	for range starts {
		some := make([]film.Paint, min(len(c.paints), 2+rng.IntN(5)))
		for i, k := range rng.Perm(len(c.paints))[:len(some)] {
			some[i] = c.paints[k]
		}
		best = min(best, c.descend(rng, some))
	}
	return best
}

// descend changes one amount at a time, by steps that grow while they help and
// shrink while they do not.
func (c *outOfReach) descend(rng *rand.Rand, paints []film.Paint) float64 {
	var mix film.Paint
	amounts, steps := make([]float64, len(paints)), make([]float64, len(paints))
	for i := range amounts {
		amounts[i], steps[i] = math.Exp(2*rng.NormFloat64()), 1
	}
	far := func() float64 {
		film.Mix(&mix, paints, amounts)
		seen := mix.Masstone(film.Dry)
		return colour.DE2000(colour.D65().Lab(&seen), c.target)
	}
	best := far()
	const sweeps = 15
	for range sweeps {
		for i, was := range amounts {
			amounts[i] = was * math.Exp(steps[i])
			if d := far(); d < best {
				best = d
				steps[i] *= 1.5
				continue
			}
			amounts[i] = was
			steps[i] *= -0.6
		}
	}
	return best
}
