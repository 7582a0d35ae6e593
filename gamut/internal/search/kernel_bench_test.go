package search

import (
	"fmt"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/samples"
	"fewtubes/gamut/set"
)

// The parts of one step of a descent on four paints.
func BenchmarkKernel(b *testing.B) {
	m := acrylicMixer(b)
	w := newWorkspace(m)
	w.begin(colour.Lab{L: 45, A: -12, B: 30}, set.Full(m.Len()))
	w.list = append(w.list[:0], 0, 4, 9, 15)
	w.amount = append(w.amount[:0], 0.1, 0.2, 0.3, 0.4)
	w.evaluate()
	w.slopes.Fill(w.here, &m.optics, w.aim)
	for _, part := range []struct {
		name string
		do   func()
	}{
		{"mix", func() { w.here.Mix(m.bands, w.list, w.amount) }},
		{"colour", func() { w.here.Colour(&m.optics) }},
		{"residual", func() { w.aim.At(w.here.Lab) }},
		{"slopes", func() { w.slopes.Fill(w.here, &m.optics, w.aim) }},
		{"by", func() { w.slopes.By(&w.jac[0], &m.bands[4]) }},
		{"dot", func() { w.lean.Dot(&m.bands[4]) }},
	} {
		b.Run(part.name, func(b *testing.B) {
			defer processor(b)()
			for b.Loop() {
				part.do()
			}
		})
	}
}

// Looking for starts among the pairs of a palette.
func BenchmarkSeeds(b *testing.B) {
	m := dry(samples.Tubes(b, tubesPath), 4)
	w := newWorkspace(m)
	for _, n := range []int{8, 40, 80} {
		palette := set.New(m.Len())
		for i := range n {
			palette.Add(i * m.Len() / n)
		}
		w.begin(colour.Lab{L: 45, A: -12, B: 30}, palette)
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			defer processor(b)()
			for b.Loop() {
				m.bank.collect(w, palette, 3)
			}
		})
	}
}
