package gamut

import (
	"fewtubes/gamut/set"
	"fmt"
	"testing"

	"fewtubes/gamut/film"
)

// One start on four paints from equal amounts.
func BenchmarkStart4(b *testing.B) {
	m := acrylicMixer(b)
	w := newWorkspace(m)
	var questions []question
	for _, q := range readQuestions(b) {
		if len(q.palette) >= 4 {
			questions = append(questions, q)
		}
	}
	b.ReportAllocs()
	defer processor(b)()
	for i := 0; b.Loop(); i++ {
		q := &questions[i%len(questions)]
		w.begin(q.target, nil)
		w.list = append(w.list[:0], q.palette[:4]...)
		w.amount = append(w.amount[:0], 0.25, 0.25, 0.25, 0.25)
		w.evaluate()
		w.descend(fullLook)
	}
}

// Whole searches over the questions of the reference table.
func BenchmarkClosest(b *testing.B) {
	benchmarkClosest(b, acrylicMixer(b))
}

// The same where a mix may hold fewer paints.
func BenchmarkClosestOfFew(b *testing.B) {
	_, paints := acrylics(b)
	for _, limit := range []int{2, 3} {
		m := mustMixer(b, paints, Options{Surface: film.Dry, PaintsPerMix: limit})
		b.Run(fmt.Sprint(limit), func(b *testing.B) { benchmarkClosest(b, m) })
	}
}

func benchmarkClosest(b *testing.B, m *Mixer) {
	questions := readQuestions(b)
	palettes := make([]set.Set, len(questions))
	for i, q := range questions {
		palettes[i] = set.Of(m.Len(), q.palette...)
	}
	for _, effort := range []Effort{Quick, Search, Verdict} {
		b.Run(effort.String(), func(b *testing.B) {
			b.ReportAllocs()
			defer processor(b)()
			for i := 0; b.Loop(); i++ {
				k := i % len(questions)
				m.Closest(questions[k].target, palettes[k], effort)
			}
		})
	}
}

func BenchmarkRecipe(b *testing.B) {
	m := acrylicMixer(b)
	questions := readQuestions(b)
	mixes := make([]Mix, len(questions))
	for i, q := range questions {
		mixes[i] = m.Closest(q.target, set.Of(m.Len(), q.palette...), Quick)
	}
	defer processor(b)()
	for i := 0; b.Loop(); i++ {
		k := i % len(questions)
		m.Recipe(questions[k].target, mixes[k], 0)
	}
}
