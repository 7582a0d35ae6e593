package film

import (
	"errors"
	"testing"

	"fewtubes/gamut/colour"
)

// A tube entered as two colours keeps its masstone, nearly its tint, and foretells
// a tint it was not given to a few units: the price of a borrowed spectrum.
func TestFromColoursOfMeasuredPaints(t *testing.T) {
	const exact, near, guess = 0.01, 1.0, 3.5
	names, paints, white := acrylics(t)
	light := colour.D65()
	for i := range paints {
		if i == white {
			continue
		}
		lab := func(p *Paint, parts float64) colour.Lab {
			s := p.Tint(&paints[white], parts, Dry)
			return light.Lab(&s)
		}
		made, err := FromColours(lab(&paints[i], 0), lab(&paints[i], 9), 9, &paints[white], light, Dry)
		if err != nil {
			t.Errorf("%s: %v", names[i], err)
			continue
		}
		for parts, within := range map[float64]float64{0: exact, 9: near, 2: guess} {
			if de := colour.DE2000(lab(&paints[i], parts), lab(&made, parts)); !(de <= within) {
				t.Errorf("%s in %g parts of white: %.2f off", names[i], parts, de)
			}
		}
	}
}

func TestReconstructRefusesWhatNoFilmCanShow(t *testing.T) {
	for _, lab := range []colour.Lab{
		{L: 5},                  // darker than the surface glare
		{L: 50, A: 120, B: -90}, // outside the colour solid
		{L: 101},
	} {
		if _, err := Reconstruct(lab, colour.D65(), Dry); !errors.Is(err, ErrNoReflectance) {
			t.Errorf("%v: got %v", lab, err)
		}
	}
}

func TestReconstructMeetsTheColour(t *testing.T) {
	for _, surface := range []Surface{Dry, {}} {
		for _, lab := range []colour.Lab{{L: 30, A: 5, B: -10}, {L: 60}, {L: 80, A: 5, B: 80}, {L: 45, A: 50, B: 30}, {L: 92, A: -1, B: 3}} {
			s, err := Reconstruct(lab, colour.D65(), surface)
			if err != nil {
				t.Errorf("%v: %v", lab, err)
				continue
			}
			if de := colour.DE2000(lab, colour.D65().Lab(&s)); de > 1e-6 {
				t.Errorf("%v: %g off", lab, de)
			}
		}
	}
}
