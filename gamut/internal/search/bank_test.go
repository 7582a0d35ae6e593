package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// singles is what is lost to single precision in the bank, in CIELAB.
const singles = 1e-4

func TestBankHoldsPairs(t *testing.T) {
	m := acrylicMixer(t)
	for i := range m.Len() {
		row := m.bank.row(i)
		for j := range row {
			for k, ratio := range kernel.Ratios {
				got := colour.Lab{L: float64(row[j].L[k]), A: float64(row[j].A[k]), B: float64(row[j].B[k])}
				want := m.Evaluate([]int{i, j}, []float64{(1 - ratio) / m.scale[i], ratio / m.scale[j]})
				if distance76(got, want) > singles {
					t.Fatalf("%d and %d at %g: %v, want %v", i, j, ratio, got, want)
				}
			}
		}
	}
}

// The stand-in for CIEDE2000 is within a fifth of it near the target, but among
// the blues, whose rotation it leaves out, and where the weight of hue varies most.
func TestGaugeRanksLikeCIEDE2000(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 4))
	var off []float64
	for range 2000 {
		target := colour.LCh{L: 10 + 80*rng.Float64(), C: 5 + 50*rng.Float64(), H: 200 * rng.Float64()}.Lab()
		at := colour.Lab{L: target.L + rng.NormFloat64(), A: target.A + rng.NormFloat64(), B: target.B + rng.NormFloat64()}
		g := kernel.NewGauge(target)
		d := math.Sqrt(float64(g.Distance(float32(at.L), float32(at.A), float32(at.B))))
		off = append(off, math.Abs(d/colour.DE2000(at, target)-1))
	}
	slices.Sort(off)
	if middle := off[len(off)/2]; middle > 0.2 {
		t.Errorf("off by %.2f in the middle", middle)
	}
}

// The seeds against a ranking of all pairs; none comes twice.
func TestCollect(t *testing.T) {
	m := acrylicMixer(t)
	rng := rand.New(rand.NewPCG(18, 5))
	w := newWorkspace(m)
	for range 100 {
		members := samples.Palette(m.Len(), 2, 12, rng)
		palette := set.Of(m.Len(), members...)
		target := samples.Mix(m, set.Full(m.Len()).Members(), rng)
		w.begin(target, palette)
		m.bank.collect(w, palette, 6)
		g := kernel.NewGauge(target)
		var all []float64
		regions := map[uint8]bool{}
		for n, i := range members {
			for _, j := range members[n+1:] {
				best := math.Inf(1)
				lie := kernel.PairOf(m.bands, &m.optics, i, j).Region
				for k, ratio := range kernel.Ratios {
					at := m.Evaluate([]int{i, j}, []float64{(1 - ratio) / m.scale[i], ratio / m.scale[j]})
					best = min(best, float64(g.Distance(float32(at.L), float32(at.A), float32(at.B))))
					regions[lie[k]] = true
				}
				all = append(all, best)
			}
		}
		slices.Sort(all)
		if len(w.near) != min(6, len(all)) || len(w.apart) != min(6, len(regions)) {
			t.Fatalf("%v: %d near, %d apart of %d regions", members, len(w.near), len(w.apart), len(regions))
		}
		for k, s := range w.near {
			if math.Abs(float64(s.distance)-all[k]) > 1e-3*(1+all[k]) {
				t.Errorf("%v: pair %d at %g, want %g", members, k, s.distance, all[k])
			}
		}
		for k := 1; k < len(w.apart); k++ {
			if w.apart[k].distance < w.apart[k-1].distance {
				t.Errorf("%v: regions out of order", members)
			}
		}
		for _, s := range slices.Concat(w.near, w.apart) {
			if !holdsSeed(w.seeds, s) {
				t.Errorf("%v: %+v is lost", members, s)
			}
		}
		for k, s := range w.seeds {
			if holdsSeed(w.seeds[:k], s) {
				t.Errorf("%v: %+v twice", members, s)
			}
			if s.first == s.second || !palette.Has(s.first) || !palette.Has(s.second) {
				t.Errorf("%v: seed %+v", members, s)
			}
		}
	}
}

// Of large palettes only the pairs of the first by difference are looked at, and
// of a search that has to start from some paints only theirs.
func TestCollectLooksAtFewer(t *testing.T) {
	m := dry(samples.Tubes(t, tubesPath), 4)
	w := newWorkspace(m)
	palette := set.Full(m.Len())
	w.begin(colour.Lab{L: 40, A: 10, B: 20}, palette)
	m.bank.collect(w, palette, mostSeeds)
	for _, s := range w.seeds {
		if !slices.Contains(m.bank.rank()[:hubs], s.first) {
			t.Errorf("%+v starts from none of the first", s)
		}
	}
	w.holds = []int{5, 9}
	m.bank.collect(w, palette, mostSeeds)
	for _, s := range w.seeds {
		if s.first != 5 && s.first != 9 {
			t.Errorf("%+v holds neither", s)
		}
	}
}

// The pairs of those few come nearly as near as all pairs do, as searches reckon.
func TestHubsSpanThePalette(t *testing.T) {
	m := dry(samples.Tubes(t, tubesPath), 4)
	w := newWorkspace(m)
	palette, rng := set.Full(m.Len()), rand.New(rand.NewPCG(75, 76))
	var behind []float64
	for range 100 {
		target := samples.Mix(m, palette.Members(), rng)
		w.begin(target, palette)
		m.bank.collect(w, palette, mostSeeds)
		nearest := float32(math.Inf(1))
		g := kernel.NewGauge(target)
		for i := range m.Len() {
			for j := range i {
				for k := range kernel.Ratios {
					nearest = min(nearest, g.At(&m.bank.row(i)[j], k))
				}
			}
		}
		behind = append(behind, math.Sqrt(float64(w.near[0].distance))-math.Sqrt(float64(nearest)))
	}
	slices.Sort(behind)
	t.Logf("behind all pairs by %.2f, nine in ten %.2f, most %.2f", behind[50], behind[90], behind[99])
	if behind[50] > 0.1 || behind[90] > 1 {
		t.Errorf("behind all pairs by %.2f, nine in ten %.2f", behind[50], behind[90])
	}
}

func TestRankByDifference(t *testing.T) {
	m := acrylicMixer(t)
	rank := m.bank.rank()
	if sorted := slices.Sorted(slices.Values(rank)); !slices.Equal(sorted, set.Full(m.Len()).Members()) {
		t.Fatalf("rank %v", rank)
	}
	look, lightest := looksOf(m)
	if rank[0] != lightest {
		t.Errorf("begins with %d", rank[0])
	}
	gap := func(i int, before []int) float64 {
		least := math.Inf(1)
		for _, j := range before {
			least = min(least, math.Hypot(distance76(look[i][0], look[j][0]), distance76(look[i][1], look[j][1])))
		}
		return least
	}
	for k := 1; k < len(rank); k++ {
		for _, later := range rank[k:] {
			if gap(later, rank[:k]) > gap(rank[k], rank[:k])+1e-9 {
				t.Errorf("%d is farther from those before than %d", later, rank[k])
			}
		}
	}
}
