package solver

import (
	"context"
	"fmt"
	"math/bits"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/bounded"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// smallProblem draws a dozen built-in tubes and six to eight colours: mixes of
// two to four of them, pushed off by up to four units, so that some lie at the
// edge of reach and a few beyond it.
func smallProblem(t testing.TB, seed uint64, tubes int) Problem {
	t.Helper()
	cat, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(seed, 2016))
	all := cat.Tubes()
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	p := Problem{
		Tubes: all[:tubes], Surface: film.Dry, Light: colour.D65(),
		PaintsPerMix: 3 + int(seed%2), MaxPartsTotal: 6,
	}
	for i := range 6 + r.IntN(3) {
		var paints []film.Paint
		var amounts []float64
		for range 2 + r.IntN(3) {
			paints = append(paints, p.Tubes[r.IntN(tubes)].Paint)
			amounts = append(amounts, 0.05+r.Float64())
		}
		var mix film.Paint
		film.Mix(&mix, paints, amounts)
		spectrum := mix.Masstone(p.Surface)
		lab := p.Light.Lab(&spectrum)
		lab.L += 4 * (r.Float64() - 0.5)
		lab.A += 8 * (r.Float64() - 0.5)
		lab.B += 8 * (r.Float64() - 0.5)
		p.Targets = append(p.Targets, Target{Name: fmt.Sprint("colour ", i), Lab: lab, Area: 1 + float64(i), Tolerance: 1 + r.Float64()})
	}
	return p
}

// reachTable says for every subset of a dozen tubes which targets it reaches. The
// mixer is asked about subsets in order of their number of tubes, smallest and
// largest in turn, and only where monotony leaves it open: a set that holds a
// reaching set reaches, a set within a missing set misses.
type reachTable struct {
	n     int
	reach []uint // by subset; bit t: target t
}

func newReachTable(t testing.TB, p *Problem) *reachTable {
	t.Helper()
	m, err := newMixer(p)
	if err != nil {
		t.Fatal(err)
	}
	n := len(p.Tubes)
	out := &reachTable{n, make([]uint, 1<<n)}
	bySize := make([][]int, n+1)
	for s := range 1 << n {
		size := bits.OnesCount(uint(s))
		bySize[size] = append(bySize[size], s)
	}
	for target := range p.Targets {
		state := make([]int8, 1<<n) // 1: reaches, -1: misses
		for low, high := 1, n; low <= high; low, high = low+1, high-1 {
			for _, s := range append(slices.Clone(bySize[high]), bySize[low]...) {
				if state[s] != 0 {
					continue
				}
				_, ok := m.Within(p.Targets[target].Lab, set.Set{uint64(s)}, p.Targets[target].Tolerance, gamut.Search)
				spread(state, s, n, ok)
			}
		}
		for s := range state {
			if state[s] == 1 {
				out.reach[s] |= 1 << target
			}
		}
	}
	return out
}

// spread marks every set that follows from one verdict.
func spread(state []int8, s, n int, reaches bool) {
	if reaches {
		rest := (1<<n - 1) &^ s
		for more := rest; ; more = (more - 1) & rest {
			state[s|more] = 1
			if more == 0 {
				return
			}
		}
	}
	for less := s; less > 0; less = (less - 1) & s {
		if state[less] == 0 {
			state[less] = -1
		}
	}
}

// smallest is the least size of a set that reaches all that the whole does.
func (r *reachTable) smallest() (size int, reachable uint) {
	reachable = r.reach[1<<r.n-1]
	size = r.n
	for s, reached := range r.reach {
		if n := bits.OnesCount(uint(s)); reached == reachable && n < size {
			size = n
		}
	}
	return size, reachable
}

// The criterion of the choice: on 60 seeded cases of 12 tubes and 6 to 8
// targets the size is that of brute force over all 4 096 subsets.
func TestSmallestEqualsBruteForceOnPaints(t *testing.T) {
	sizes := map[int]int{}
	for seed := range uint64(bounded.Cases(t, 20, 60)) {
		p := smallProblem(t, seed, 12)
		table := newReachTable(t, &p)
		size, reachable := table.smallest()
		a, err := Choose(context.Background(), p, nil)
		if err != nil {
			t.Fatalf("case %d: %v", seed, err)
		}
		if a.Minimum.Tubes != max(size, 1) {
			t.Errorf("case %d: %d tubes, by brute force %d", seed, a.Minimum.Tubes, size)
		}
		sizes[size]++
		for i, target := range p.Targets {
			beyond := false
			for _, m := range a.Unreachable {
				beyond = beyond || m.Target == target.Name
			}
			if beyond == (reachable>>i&1 == 1) {
				t.Errorf("case %d: %s beyond reach: %v", seed, target.Name, beyond)
			}
		}
		checkListed(t, seed, &p, reachable, a)
	}
	t.Logf("sizes %v", sizes)
}

// checkListed mixes every share of every listed palette again.
func checkListed(t *testing.T, seed uint64, p *Problem, reachable uint, a *Answer) {
	t.Helper()
	tube := func(id string) *catalog.Tube {
		return &p.Tubes[slices.IndexFunc(p.Tubes, func(x catalog.Tube) bool { return x.ID == id })]
	}
	for _, palette := range a.Palettes {
		if len(palette.Tubes) != a.Minimum.Tubes {
			t.Errorf("case %d: %v is not of the smallest size", seed, palette.Tubes)
		}
		for i, o := range palette.Targets {
			if reachable>>i&1 == 0 {
				continue
			}
			for _, share := range o.Shares {
				if !slices.Contains(palette.Tubes, share.ID) {
					t.Errorf("case %d: %s is not in %v", seed, share.ID, palette.Tubes)
				}
			}
			if de := colour.DE2000(seen(p, tube, o.Shares), p.Targets[i].Lab); !(de <= p.Targets[i].Tolerance) {
				t.Errorf("case %d: %v comes to %v of %v", seed, palette.Tubes, de, p.Targets[i].Tolerance)
			}
		}
	}
}
