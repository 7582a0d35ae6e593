package search

import (
	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
)

// Meter tells the colours of many mixtures, as gamut.Meter has it.
type Meter struct {
	m      *Paints
	at     kernel.Point
	scaled []float64
}

// Meter is a new meter of these paints.
func (m *Paints) Meter() *Meter { return &Meter{m: m} }

// Lab is the colour of volumes >= 0 on any common scale, one per paint listed.
func (t *Meter) Lab(paints []int, volumes []float64) colour.Lab {
	t.scaled = t.scaled[:0]
	for i, p := range paints {
		t.scaled = append(t.scaled, volumes[i]*t.m.scale[p])
	}
	return t.Scaled(paints, t.scaled)
}

// Scaled is the colour of amounts scaled already.
func (t *Meter) Scaled(paints []int, amounts []float64) colour.Lab {
	t.at.Mix(t.m.bands, paints, amounts)
	t.at.Colour(&t.m.optics)
	return t.at.Lab
}
