package solver

import (
	"runtime"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// mixing is the oracle of real paints. Each search for a mix starts by letting
// other goroutines run: left to the runtime, a row of searches holds a processor
// for 10 ms, and whoever waits behind several rows, such as the reader that hears
// an asker leave, waits for all of them.
type mixing struct {
	mixer   *gamut.Mixer
	targets []colour.Lab
}

var efforts = map[effort]gamut.Effort{quick: gamut.Quick, search: gamut.Search, verdict: gamut.Verdict}

func newMixing(p *Problem) (*mixing, error) {
	paints := make([]film.Paint, len(p.Tubes))
	for i := range p.Tubes {
		paints[i] = p.Tubes[i].Paint
	}
	mixer, err := gamut.NewMixer(paints, gamut.Options{Surface: p.Surface, Light: p.Light, PaintsPerMix: p.PaintsPerMix})
	if err != nil {
		return nil, err
	}
	m := &mixing{mixer: mixer}
	for i := range p.Targets {
		m.targets = append(m.targets, p.Targets[i].Lab)
	}
	return m, nil
}

func (m *mixing) within(t int, palette set.Set, tolerance float64, e effort) (gamut.Mix, bool) {
	runtime.Gosched()
	return m.mixer.Within(m.targets[t], palette, tolerance, efforts[e])
}

func (m *mixing) closest(t int, palette set.Set, e effort) gamut.Mix {
	runtime.Gosched()
	return m.mixer.Closest(m.targets[t], palette, efforts[e])
}

// seen is the colour of shares of tubes, straight through the film model: it
// shares nothing with the mixer.
func seen(p *Problem, tube func(id string) *catalog.Tube, shares []Share) colour.Lab {
	paints := make([]film.Paint, len(shares))
	amounts := make([]float64, len(shares))
	for i, s := range shares {
		paints[i], amounts[i] = tube(s.ID).Paint, s.Fraction
	}
	var mix film.Paint
	film.Mix(&mix, paints, amounts)
	spectrum := mix.Masstone(p.Surface)
	return p.Light.Lab(&spectrum)
}
