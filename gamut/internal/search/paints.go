package search

import (
	"sync"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/kernel"
)

// Paints are a fixed list of paints, prepared for searching. They serve any number
// of goroutines; answers do not depend on what was asked before.
type Paints struct {
	films   []film.Paint
	bands   []kernel.Paint
	scale   []float64 // mean K+S: scaled amount = volume * scale
	surface film.Surface
	light   *colour.Light
	optics  kernel.Optics
	limit   int // paints per mix
	bank    *bank
	alike   *alike
	pool    *sync.Pool // *workspace
}

// Mix is a mixture, as gamut.Mix has it.
type Mix struct {
	Paints []int
	Shares []float64
	Lab    colour.Lab
	DE     float64
}

// New prepares paints, K and S positive and finite, of which a mix holds at most
// limit.
func New(paints []film.Paint, surface film.Surface, light *colour.Light, limit int) *Paints {
	m := &Paints{
		films:   append([]film.Paint(nil), paints...),
		bands:   make([]kernel.Paint, len(paints)),
		scale:   make([]float64, len(paints)),
		surface: surface, light: light,
		optics: kernel.NewOptics(surface, light),
		limit:  min(limit, len(paints)),
	}
	for i := range paints {
		m.bands[i], m.scale[i] = kernel.Scaled(&paints[i])
	}
	m.bank, m.alike = newBank(m), newAlike(m)
	m.pool = &sync.Pool{New: func() any { return newWorkspace(m) }}
	return m
}

// workspace is one to search these paints in, to be put back into the pool.
func (m *Paints) workspace() *workspace {
	w := m.pool.Get().(*workspace)
	w.m = m
	return w
}

// Len is the number of paints.
func (m *Paints) Len() int { return len(m.films) }

// Limit is the most paints one mix may hold.
func (m *Paints) Limit() int { return m.limit }

// Scale is the mean K+S of a paint: volumes of paints times their scales weigh alike.
func (m *Paints) Scale(paint int) float64 { return m.scale[paint] }

// Film is K and S of a paint.
func (m *Paints) Film(paint int) *film.Paint { return &m.films[paint] }

// Of are other paints on the same surface, in the same light.
func (m *Paints) Of(paints []film.Paint, limit int) *Paints {
	return New(paints, m.surface, m.light, limit)
}

// Only are some of the paints, numbered anew.
func (m *Paints) Only(paints []int) *Paints {
	films := make([]film.Paint, len(paints))
	for k, i := range paints {
		films[k] = m.films[i]
	}
	return m.Of(films, m.limit)
}

// Evaluate is the colour of amounts by volume, one per paint listed. It goes straight
// through package film and shares nothing with the search.
func (m *Paints) Evaluate(paints []int, amounts []float64) colour.Lab {
	used := make([]film.Paint, len(paints))
	for i, p := range paints {
		used[i] = m.films[p]
	}
	var sum film.Paint
	film.Mix(&sum, used, amounts)
	seen := sum.Masstone(m.surface)
	return m.light.Lab(&seen)
}
