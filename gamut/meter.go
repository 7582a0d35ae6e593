package gamut

import "fewtubes/gamut/colour"

// Meter tells the colours of many mixtures of a Mixer's paints, some fifty times
// as fast as Evaluate and equal to it but for rounding. It serves one goroutine
// at a time.
type Meter struct {
	m      *Mixer
	at     point
	scaled []float64
}

// Meter is a new meter of these paints.
func (m *Mixer) Meter() *Meter { return &Meter{m: m} }

// Lab is the colour of a mixture: volumes >= 0 on any common scale, one per paint
// listed, of which there is at least one.
func (t *Meter) Lab(paints []int, volumes []float64) colour.Lab {
	t.scaled = t.scaled[:0]
	for i, p := range paints {
		t.scaled = append(t.scaled, volumes[i]*t.m.scale[p])
	}
	t.at.mix(t.m.bands, paints, t.scaled)
	t.at.colour(&t.m.optics)
	return t.at.lab
}
