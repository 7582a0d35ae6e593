package solver

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
)

// A mix of paints that all stand in the mix found already, in quite other amounts, is
// found: in one plausible box three paints come within 1.6 of a dark blue by thirds and
// within 4.6 by nearly nothing but blue. Held to amounts tried at random through the
// film model alone.
func TestOtherAmountsOfTheSamePaints(t *testing.T) {
	p := smallProblem(t, 729, 12)
	wanted, three := p.Targets[1].Lab, []int{0, 1, 5}
	paints := make([]film.Paint, len(p.Tubes))
	boxes := catalog.NewBoxes(p.Tubes)
	boxes.Draw(1, paints)
	for i := range p.Tubes {
		p.Tubes[i].Paint = paints[i]
	}
	best, amounts := math.Inf(1), make([]float64, len(three))
	rng := rand.New(rand.NewPCG(729, 1))
	for range 20_000 {
		var mix film.Paint
		for i := range amounts {
			amounts[i] = math.Pow(rng.Float64(), 3)
		}
		film.Mix(&mix, []film.Paint{paints[0], paints[1], paints[5]}, amounts)
		spectrum := mix.Masstone(p.Surface)
		best = min(best, colour.DE2000(p.Light.Lab(&spectrum), wanted))
	}
	m, err := newMixer(&p)
	if err != nil {
		t.Fatal(err)
	}
	drawn, err := NewSession(smallProblem(t, 729, 12))
	if err != nil {
		t.Fatal(err)
	}
	near := func(about string, m *gamut.Mixer) {
		for _, effort := range []gamut.Effort{gamut.Search, gamut.Verdict} {
			if mix, _ := m.Within(wanted, set.Of(12, three...), 0.01, effort); mix.DE > best {
				t.Errorf("%s, %v: %.3f, by chance %.3f", about, effort, mix.DE, best)
			}
		}
	}
	near("a mixer of its own", m)
	err = drawn.boxes().Each(context.Background(), set.Full(12), 1, 1, func(_ int, m *gamut.Mixer, _ []film.Paint) { near("the box's", m) })
	if err != nil || best > 1.6 {
		t.Error(best, err)
	}
}
