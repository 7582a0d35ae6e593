package film

import (
	"math"
	"testing"

	"fewtubes/gamut/colour"
)

// Seen without glare is what an instrument reads that shuts the specular beam out
// (ISO 13655:2017, 45:0), against a white under the same surface, which reads 1-K1
// where nothing is absorbed.
func TestNoGlareIsWhatIsReadBesideTheGloss(t *testing.T) {
	without := Dry.Viewed(NoGlare)
	for r := 0.0; r <= 1; r += 0.01 {
		read := Dry.Seen(r) - Dry.K1
		if got, want := without.Seen(r), read/(1-Dry.K1); math.Abs(got-want) > 1e-15 {
			t.Errorf("inside %v: %v, read %v", r, got, want)
		}
	}
	if without.Seen(0) != 0 || math.Abs(without.Seen(1)-1) > 1e-15 {
		t.Errorf("black %v, white %v", without.Seen(0), without.Seen(1))
	}
	if Dry.Viewed(AsDried) != Dry || Dry.View() != AsDried || without.View() != NoGlare {
		t.Errorf("views %v and %v", Dry.View(), without.View())
	}
}

// A varnish deepens the darks and leaves the lights (common practice, no source):
// the darkest dry film lies at value 2, without glare at 0.
func TestVarnishDeepensDarks(t *testing.T) {
	value := func(s Surface, r float64) float64 {
		seen := colour.Flat(s.Seen(r))
		return colour.D65().Lab(&seen).L
	}
	without, last := Dry.Viewed(NoGlare), math.Inf(1)
	for r := 0.0; r <= 1; r += 0.05 {
		by := value(Dry, r) - value(without, r)
		if by > last || by < -1e-9 {
			t.Errorf("inside %v: deeper by %v, and by %v a step darker", r, by, last)
		}
		last = by
	}
	if deep, light := value(Dry, 0), value(Dry, 0.97)-value(without, 0.97); deep < 19 || light > 0.2 {
		t.Errorf("black by %v, white by %v", deep, light)
	}
}

func TestParseView(t *testing.T) {
	for name, want := range map[string]View{"": AsDried, "dry": AsDried, "no-glare": NoGlare} {
		if got, err := ParseView(name); err != nil || got != want {
			t.Errorf("%q: %q, %v", name, got, err)
		}
	}
	if _, err := ParseView("wet"); err == nil {
		t.Error("wet is no way a dry film looks")
	}
}
