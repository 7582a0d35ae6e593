package solver

import (
	"context"
	"flag"
	"math/bits"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/film"
)

var sureTubes = flag.Int("sure-tubes", 8, "tubes of the cases of TestSureEqualsBruteForce, up to 12")

// holdTable says for every subset of a few tubes in which boxes it reaches every
// target that all of them reach as they stand.
type holdTable struct {
	n     int
	boxes []int // by subset
}

func newHoldTable(t *testing.T, p *Problem, draws int) *holdTable {
	t.Helper()
	nominal := newReachTable(t, p)
	judged := nominal.reach[1<<nominal.n-1]
	out := &holdTable{nominal.n, make([]int, 1<<nominal.n)}
	drawn := *p
	drawn.Tubes = slices.Clone(p.Tubes)
	paints := make([]film.Paint, len(p.Tubes))
	boxes := catalog.NewBoxes(p.Tubes)
	for n := 1; n <= draws; n++ {
		boxes.Draw(n, paints)
		for i := range paints {
			drawn.Tubes[i].Paint = paints[i]
		}
		for s, reached := range newReachTable(t, &drawn).reach {
			if reached&judged == judged {
				out.boxes[s]++
			}
		}
	}
	return out
}

// most is the largest number of boxes in which a subset of so many tubes holds.
func (h *holdTable) most(size int) (most int) {
	for s, boxes := range h.boxes {
		if bits.OnesCount(uint(s)) == size {
			most = max(most, boxes)
		}
	}
	return most
}

// The smallest size that holds in enough boxes, the share of the best of it and that of
// the best of one fewer are those of brute force over all subsets; and what stands in
// the way where none does.
func TestSureEqualsBruteForce(t *testing.T) {
	const draws = 40
	cases := bounded.Cases(t, 8, 30)
	answered := 0
	for seed := range uint64(cases) {
		p := smallProblem(t, 700+seed, *sureTubes)
		p.MostPalettes = 3
		for i := range p.Targets {
			p.Targets[i].Tolerance += 3
		}
		table := newHoldTable(t, &p, draws)
		percent := []float64{90, 75, 60}[seed%3]
		needed := int(percent * draws / 100)
		size := 1
		for size < table.n && table.most(size) < needed {
			size++
		}
		a, sure, err := func() (*Answer, *Sure, error) {
			s, err := NewSession(p)
			if err != nil {
				t.Fatal(err)
			}
			return s.ChooseSure(context.Background(), p.Limits, p.Prefer, percent, draws, nil)
		}()
		if err != nil {
			t.Fatalf("case %d: %v", seed, err)
		}
		if sure == nil {
			continue // nothing is within reach
		}
		if most := table.most(table.n); most < needed {
			if sure.Reached || sure.Holds != most || sure.AtMost != most || len(sure.Together) == 0 {
				t.Errorf("case %d: %+v, by brute force %d of %d at most", seed, sure, most, needed)
			}
			continue
		}
		answered++
		if !sure.Reached || a.Minimum.Tubes != size || a.Minimum.AtLeast != size || sure.Needed != needed {
			t.Errorf("case %d: %+v, %+v, by brute force %d tubes", seed, a.Minimum, sure, size)
			continue
		}
		if most := table.most(size); sure.Holds != most || sure.AtMost != most {
			t.Errorf("case %d: holds in %d, at most %d, by brute force %d", seed, sure.Holds, sure.AtMost, most)
		}
		if size > 1 {
			if most := table.most(size - 1); sure.Fewer.AtMost != most || sure.Fewer.Holds != most {
				t.Errorf("case %d: one fewer %+v, by brute force %d", seed, sure.Fewer, most)
			}
		}
	}
	t.Logf("%d of %d cases have an answer", answered, cases)
	if answered < cases*2/3 {
		t.Error("the cases are too hard")
	}
}
