package report

import (
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// A recipe let down that is nearer than the mix it was to stand for is itself shown as the
// mix: no recipe is nearer than what is measured freely.
func TestLetDownIsNoNearerThanTheMix(t *testing.T) {
	p := fixtureProblem()
	white, blue := p.Tubes[0], p.Tubes[3]
	mixed := func(part float64) colour.Lab {
		var mix film.Paint
		film.Mix(&mix, []film.Paint{white.Paint, blue.Paint}, []float64{1 - part, part})
		seen := mix.Masstone(p.Surface)
		return p.Light.Lab(&seen)
	}
	target := solver.Target{Name: "thin mist", Lab: mixed(1.0 / 111), Tolerance: 6}
	p.Targets = []solver.Target{target}
	mix := mixed(0.02)
	o := solver.Outcome{
		Target: target.Name, Lab: target.Lab, Mix: mix, DE: colour.DE2000(mix, target.Lab), Reached: true,
		Shares: []solver.Share{{ID: white.ID, Fraction: 0.98}, {ID: blue.ID, Fraction: 0.02}},
		Parts:  []solver.Part{{ID: white.ID, Parts: 1}}, PartsDE: colour.DE2000(mixed(0), target.Lab),
	}
	o.PartsDE = max(o.PartsDE, o.DE+2) // coarse enough
	c := NewChoice(Scene{}, p, &solver.Answer{Palettes: []solver.Palette{{Tubes: []string{white.ID, blue.ID}, WorstDE: o.DE, Targets: []solver.Outcome{o}}}})
	got := c.Palettes[0].Targets[0]
	if got.LetDown == nil || float64(got.LetDown.DE) >= o.DE {
		t.Fatalf("let down: %+v, freely at %g", got.LetDown, o.DE)
	}
	if got.DE > got.LetDown.DE || got.MixLab != got.LetDown.Lab {
		t.Errorf("freely %v at %v, let down %v at %v", got.MixLab, got.DE, got.LetDown.Lab, got.LetDown.DE)
	}
}
