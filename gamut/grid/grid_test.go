package grid

import (
	"math"
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

// The tubes a painter of landscapes may own.
var kit = []string{"titanium-white", "yellow-ochre", "ultramarine-blue", "burnt-sienna", "hansa-yellow-medium", "quinacridone-magenta"}

func mixer(t testing.TB, ids []string) *gamut.Mixer {
	t.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	var paints []film.Paint
	for _, id := range ids {
		tube, err := all.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		paints = append(paints, tube.Paint)
	}
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: all.Surface(film.AsDried)})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// drawn are colours as a landscape has them, and some beyond.
func drawn(n int, rng *rand.Rand) (out []colour.Lab) {
	for range n {
		c := colour.LCh{L: 100 * rng.Float64(), C: 45 * math.Sqrt(rng.Float64()), H: 360 * rng.Float64()}
		out = append(out, c.Lab())
	}
	return out
}

// Against a search for each colour.
func TestGridIsNearTheSearch(t *testing.T) {
	for name, ids := range map[string][]string{
		"six": kit, "four": kit[:4], "strong": {"titanium-white", "phthalo-blue-green-shade", "phthalo-green-blue-shade", "pyrrole-red", "hansa-yellow-medium", "burnt-umber", "ivory-black"},
		"white and black": {"titanium-white", "ivory-black"},
	} {
		t.Run(name, func(t *testing.T) { nearTheSearch(t, mixer(t, ids)) })
	}
}

func nearTheSearch(t *testing.T, m *gamut.Mixer) {
	palette := set.Full(m.Len())
	rng := rand.New(rand.NewPCG(23, 1))
	colours := drawn(2000, rng)
	region := NewRegion()
	for _, c := range colours {
		region.Add(c)
	}
	g, err := New(t.Context(), m, palette, region)
	if err != nil {
		t.Fatal(err)
	}
	var apart, behind, recomputed []float64
	for _, c := range colours {
		got, ok := g.Mix(c)
		if !ok {
			t.Fatalf("%v is not there", c)
		}
		if lab, _ := g.Colour(c); lab != got.Lab {
			t.Fatalf("%v: %v and %v", c, lab, got.Lab)
		}
		var sum float64
		for _, s := range got.Shares {
			sum += s
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%v: shares sum to %v", c, sum)
		}
		best := m.Closest(c, palette, gamut.Search)
		apart = append(apart, colour.DE2000(got.Lab, best.Lab))
		if best.DE < 15 { // beyond, CIEDE2000 itself jumps by units where hues are opposite
			behind = append(behind, math.Abs(got.DE-best.DE))
		}
		recomputed = append(recomputed, colour.DE2000(got.Lab, m.Evaluate(got.Paints, got.Shares)))
	}
	for _, list := range [][]float64{apart, behind, recomputed} {
		slices.Sort(list)
	}
	at := func(list []float64, share float64) float64 { return list[int(share*float64(len(list)-1))] }
	t.Logf("%d nodes; from the nearest mix: median %.3f, 95 %% %.2f, most %.2f; distance behind: 95 %% %.2f, most %.2f; from shares: 98 %% %.2f, most %.2f",
		g.Nodes(), at(apart, 0.5), at(apart, 0.95), at(apart, 1), at(behind, 0.95), at(behind, 1), at(recomputed, 0.98), at(recomputed, 1))
	if at(apart, 0.5) > 0.05 || at(apart, 0.95) > 0.4 {
		t.Error("too far from the nearest mix")
	}
	if at(behind, 0.95) > 0.4 || at(behind, 1) > 1 {
		t.Error("too far from the best distance")
	}
	if at(recomputed, 0.98) > 0.5 {
		t.Error("shares and colour disagree")
	}
}

func BenchmarkNew(b *testing.B) {
	m := mixer(b, kit)
	region := NewRegion()
	for _, c := range drawn(2000, rand.New(rand.NewPCG(23, 1))) {
		region.Add(c)
	}
	start := bounded.ProcessorTime()
	for b.Loop() {
		if _, err := New(b.Context(), m, set.Full(m.Len()), region); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(bounded.ProcessorTime()-start)/float64(b.N)/1e9, "cpu-s/op")
}
