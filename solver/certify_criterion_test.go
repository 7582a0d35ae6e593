package solver

import (
	"context"
	"os"
	"slices"
	"syscall"
	"testing"

	"fewtubes/gamut/certain"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// everyCase asks for all of the cases that a short run takes some of.
func everyCase() bool { return os.Getenv("FEWTUBES_CERTAIN") == "all" }

// TestWhatHasRoomIsCertified holds the certified verdicts to what they are for:
// colours that miss by 0.3 and more, the rest as they come.
func TestWhatHasRoomIsCertified(t *testing.T) {
	for _, kind := range []struct {
		name        string
		least, most int
		pivots      int // about 2 s, 20 s of two cores
	}{
		{"small", 6, 12, 60_000},
		{"large", 40, 60, 300_000},
	} {
		t.Run(kind.name, func(t *testing.T) {
			var seconds []float64
			n := 20
			if !everyCase() && kind.least > 12 {
				n = 5
			}
			for i, c := range grown(t, 2026, n, kind.least, kind.most) {
				start := processorSeconds()
				got, err := certain.Unreachable(context.Background(), c.paints, film.Dry, colour.D65(), c.target, c.tolerance, certain.Options{Near: []colour.Lab{c.near}})
				if err != nil {
					t.Fatal(err)
				}
				took := processorSeconds() - start
				seconds = append(seconds, took)
				verify, steps := 0.0, 0
				if got.Verdict == certain.Certified {
					start = processorSeconds()
					if err := got.Certificate.Verify(context.Background()); err != nil {
						t.Errorf("case %d: %v", i, err)
					}
					verify = processorSeconds() - start
					steps = len(got.Certificate.Steps)
				}
				t.Logf("%2d: %d tubes, margin %.3f: %v, %d cells, %d pivots, %.2f s, %d steps, verified in %.2f s",
					i, c.tubes, c.margin, got.Verdict, got.Cells, got.Pivots, took, steps, verify)
			}
			slices.Sort(seconds)
			t.Logf("processor seconds: %.2f, %.2f, %.2f (least, median, most)", seconds[0], seconds[len(seconds)/2], seconds[len(seconds)-1])
		})
	}
}

func processorSeconds() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Nano()+u.Stime.Nano()) / 1e9
}
