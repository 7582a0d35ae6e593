package search

import (
	"fmt"
	"testing"

	"fewtubes/gamut/set"
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
	paints := acrylics(b)
	for _, limit := range []int{2, 3} {
		m := dry(paints, limit)
		b.Run(fmt.Sprint(limit), func(b *testing.B) { benchmarkClosest(b, m) })
	}
}

func benchmarkClosest(b *testing.B, m *Paints) {
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
