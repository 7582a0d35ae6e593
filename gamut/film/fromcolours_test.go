package film

import (
	"errors"
	"slices"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film/doubt"
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

// What two colours leave open shows where tubes are mixed with each other: made
// from exact colours of measured acrylics, two of them 1:1 lie about 2 from the
// mixture of the paints in the median, a tenth of them more than 8. Tubes drawn from
// doubt.TwoColours spread farther in the median, since colours from a photograph are
// not exact, and less in the worst tenth, which is another kind of error.
func TestTwoColourTubesInMixes(t *testing.T) {
	const exactMedian, exactTenth, drawnMedian, drawnTenth = 2.5, 13.0, 4.5, 9.0
	names, paints, white := acrylics(t)
	light := colour.D65()
	var known, made, drawn []Paint
	for i := range paints {
		if i == white {
			continue
		}
		a, b := paints[i].Masstone(Dry), paints[i].Tint(&paints[white], 9, Dry)
		p, err := FromColours(light.Lab(&a), light.Lab(&b), 9, &paints[white], light, Dry)
		if err != nil {
			t.Fatal(err)
		}
		z := doubt.NewSource(names[i]).Standard(1)
		off := doubt.TwoColours.Deviation(&z)
		var other Paint
		paints[i].Deviate(&other, &off)
		known, made, drawn = append(known, paints[i]), append(made, p), append(drawn, other)
	}
	mixed := func(p []Paint, i, j int) colour.Lab {
		var mix Paint
		Mix(&mix, []Paint{p[i], p[j]}, []float64{0.5, 0.5})
		seen := mix.Masstone(Dry)
		return light.Lab(&seen)
	}
	var exact, plausible []float64
	for i := range known {
		for j := range i {
			exact = append(exact, colour.DE2000(mixed(known, i, j), mixed(made, i, j)))
			plausible = append(plausible, colour.DE2000(mixed(known, i, j), mixed(drawn, i, j)))
		}
	}
	slices.Sort(exact)
	slices.Sort(plausible)
	tenth := len(exact) * 9 / 10
	t.Logf("%d mixtures: median %.1f, tenth %.1f; drawn %.1f, %.1f", len(exact), median(exact), exact[tenth], median(plausible), plausible[tenth])
	if median(exact) > exactMedian || exact[tenth] > exactTenth || median(plausible) < median(exact) || median(plausible) > drawnMedian || plausible[tenth] > drawnTenth {
		t.Errorf("median %.1f, tenth %.1f; drawn %.1f, %.1f", median(exact), exact[tenth], median(plausible), plausible[tenth])
	}
}
