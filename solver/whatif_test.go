package solver

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// whatIf is a first answer for 60 tubes and 24 colours that their mixes reach.
func whatIf(tb testing.TB) (*Session, *Answer) {
	tb.Helper()
	all, err := catalog.Builtin()
	if err != nil {
		tb.Fatal(err)
	}
	p := Problem{Tubes: all.Tubes()[:60], Surface: film.Dry, MostPalettes: 1}
	rng := rand.New(rand.NewPCG(4, 24))
	for i := range 24 {
		var chosen []film.Paint
		var amounts []float64
		for range 3 {
			chosen = append(chosen, p.Tubes[rng.IntN(len(p.Tubes))].Paint)
			amounts = append(amounts, rng.ExpFloat64())
		}
		var mix film.Paint
		film.Mix(&mix, append(chosen, p.Tubes[0].Paint), append(amounts, 3*rng.Float64()))
		seen := mix.Masstone(film.Dry)
		p.Targets = append(p.Targets, Target{Name: string(rune('a' + i)), Lab: colour.D65().Lab(&seen), Area: 1, Tolerance: 3})
	}
	s, err := NewSession(p)
	if err != nil {
		tb.Fatal(err)
	}
	a, err := s.Choose(context.Background(), Limits{}, Accuracy, nil)
	if err != nil {
		tb.Fatal(err)
	}
	return s, a
}

// changes are limits that alter the first answer: a chosen tube or a class
// banned, a tube owned, a budget below its price.
func changes(a *Answer) []Limits {
	free := Limits{}
	var out []Limits
	for _, id := range a.Palettes[0].Tubes {
		banned, owned := free, free
		banned.Never, owned.Own = []string{id}, []string{id}
		out = append(out, banned, owned)
	}
	for _, class := range []string{"cadmium", "cobalt", "lead", "copper", "toxic", "fugitive"} {
		l := free
		l.Avoid = []string{class}
		out = append(out, l)
	}
	l := free
	l.Budget = Spend(a.Palettes[0].Price - 500)
	return append(out, l)
}

// BenchmarkWhatIf answers each change on the session of the first answer and
// reports the median.
func BenchmarkWhatIf(b *testing.B) {
	var took []time.Duration
	for b.Loop() {
		b.StopTimer()
		s, first := whatIf(b)
		limits := changes(first)
		b.StartTimer()
		for _, l := range limits {
			start := time.Now()
			if _, err := s.Choose(context.Background(), l, Accuracy, nil); err != nil {
				b.Fatal(err)
			}
			took = append(took, time.Since(start))
		}
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Microseconds())/1000, "ms-median/change")
	b.ReportMetric(float64(took[len(took)-1].Microseconds())/1000, "ms-most/change")
}
