package reach

import (
	"context"
	"flag"
	"math"
	"slices"
	"testing"

	"fewtubes/gamut"
	"fewtubes/gamut/set"

	"pgregory.net/rapid"
)

// Property tests draw the same cases at every run; -rapid.seed asks for others.
func init() {
	if err := flag.Set("rapid.seed", "1974"); err != nil {
		panic(err)
	}
}

// mixes is an oracle of one target: a palette comes as near as the nearest mix that
// it holds. Its pulls say nothing that is true, which must do no harm.
type mixes struct {
	tubes int
	lists bool
	all   []gamut.Mix
	pull  []float64
}

func (m *mixes) Closest(_ int, palette set.Set, _ gamut.Effort) gamut.Mix {
	best := gamut.Mix{DE: math.Inf(1)}
	for _, x := range m.all {
		if x.DE < best.DE && set.Of(m.tubes, x.Paints...).SubsetOf(palette) {
			best = x
		}
	}
	return best
}

func (m *mixes) Within(t int, palette set.Set, tolerance float64, e gamut.Effort) (gamut.Mix, bool) {
	x := m.Closest(t, palette, e)
	return x, x.DE <= tolerance
}

func (m *mixes) WithinBy(t int, palette set.Set, _ []int, tolerance float64) (gamut.Mix, bool) {
	return m.Within(t, palette, tolerance, gamut.Quick)
}

func (m *mixes) Swap(t int, x *gamut.Mix, out, in int) gamut.Mix {
	paints := set.Of(m.tubes, x.Paints...)
	paints.Remove(out)
	paints.Add(in)
	return m.Closest(t, paints, gamut.Quick)
}

func (m *mixes) Lists() bool { return m.lists }

func (m *mixes) Brings(_ int, palette set.Set, tube int, tolerance float64) bool {
	with := palette.Clone()
	with.Add(tube)
	return slices.ContainsFunc(m.all, func(x gamut.Mix) bool {
		return x.DE <= tolerance && slices.Contains(x.Paints, tube) && set.Of(m.tubes, x.Paints...).SubsetOf(with)
	})
}

func (m *mixes) Promise(_ context.Context, _ int, domain set.Set, tolerance float64) ([]int, error) {
	out := make([]int, m.tubes)
	for _, x := range m.all {
		if x.DE <= tolerance && set.Of(m.tubes, x.Paints...).SubsetOf(domain) {
			for _, i := range x.Paints {
				out[i]++
			}
		}
	}
	return out, nil
}

func (m *mixes) Listed(t int, palette set.Set, tolerance float64) (gamut.Mix, bool) {
	return m.Within(t, palette, tolerance, gamut.Quick)
}

func (m *mixes) Alike(int) []int                             { return set.Full(m.tubes).Members() }
func (m *mixes) Pulls(int, *gamut.Mix) []float64             { return m.pull }
func (m *mixes) PullsWithout(int, *gamut.Mix, int) []float64 { return m.pull }

// What is learnt of a target is true: against every palette, whatever was asked in
// whatever order, and the cuts of one explanation share no tube.
func TestKnownIsTrue(t *testing.T) {
	cuts, several := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 8).Draw(t, "tubes")
		tube := rapid.IntRange(0, n-1)
		o := &mixes{tubes: n, lists: rapid.Bool().Draw(t, "lists"), pull: rapid.SliceOfN(rapid.Float64Range(-1, 1), n, n).Draw(t, "pulls")}
		for range rapid.IntRange(1, 12).Draw(t, "mixes") {
			paints := rapid.SliceOfNDistinct(tube, 1, min(n, 4), rapid.ID).Draw(t, "paints")
			slices.Sort(paints)
			o.all = append(o.all, gamut.Mix{Paints: paints, DE: rapid.Float64Range(0, 6).Draw(t, "de")})
		}
		k := NewKnown(o, 0, n)
		for range rapid.IntRange(1, 4).Draw(t, "questions") {
			palette := set.Of(n, rapid.SliceOfN(tube, 0, 3).Draw(t, "palette")...)
			domain := set.Union(palette, set.Of(n, rapid.SliceOfN(tube, 0, n).Draw(t, "domain")...))
			tolerance := rapid.Float64Range(0.5, 4).Draw(t, "tolerance")
			before := len(k.Failings)
			missing, err := k.Explain(context.Background(), palette, domain, tolerance)
			if err != nil {
				t.Fatal(err)
			}
			if truth := o.Closest(0, palette, gamut.Verdict).DE > tolerance; missing != truth {
				t.Fatalf("%v misses at %v: %v, in truth %v", palette.Members(), tolerance, missing, truth)
			}
			if missing && !k.KnownToMiss(palette, tolerance) {
				t.Fatalf("no failing set says that %v misses", palette.Members())
			}
			taken := set.New(n)
			for _, f := range k.Failings[before:] {
				cut := set.Minus(domain, f.Set)
				if cut.Meets(taken) {
					t.Fatalf("the cut %v shares a tube with one before", cut.Members())
				}
				taken = set.Union(taken, cut)
			}
			if cuts += len(k.Failings) - before; len(k.Failings)-before > 1 {
				several++
			}
		}
		for words := range uint64(1) << n {
			palette := set.Set{words}
			truth := o.Closest(0, palette, gamut.Verdict).DE
			for _, tolerance := range []float64{0.5, 1, 2, 4} {
				if k.KnownToReach(palette, tolerance) && truth > tolerance || k.KnownToMiss(palette, tolerance) && truth <= tolerance {
					t.Fatalf("what is known of %v at %v is wrong: the nearest is at %v", palette.Members(), tolerance, truth)
				}
			}
		}
	})
	if cuts < 50 || several == 0 {
		t.Errorf("%d cuts, %d times several at once", cuts, several)
	}
}
