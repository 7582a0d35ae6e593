package catalog

import (
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// pile is a mix in parts by volume, as on a palette.
type pile map[string]float64

// colourOf dries a pile out.
func colourOf(t *testing.T, p pile) colour.LCh {
	t.Helper()
	c := builtinTubes(t)
	var paints []film.Paint
	var parts []float64
	for _, tube := range c.Tubes() {
		if p[tube.ID] > 0 {
			paints, parts = append(paints, tube.Paint), append(parts, p[tube.ID])
		}
	}
	if len(paints) != len(p) {
		t.Fatalf("a tube of %v is not in the catalogue", p)
	}
	var mix film.Paint
	film.Mix(&mix, paints, parts)
	seen := mix.Masstone(film.Dry)
	return colour.D65().Lab(&seen).LCh()
}

// with is p and something more.
func (p pile) with(id string, parts float64) pile {
	q := pile{}
	for k, v := range p {
		q[k] = v
	}
	q[id] += parts
	return q
}

// hueIn reports whether h lies on the arc that runs up from lo to hi.
func hueIn(h, lo, hi float64) bool {
	if lo <= hi {
		return lo <= h && h <= hi
	}
	return h >= lo || h <= hi
}

// The checks below are common practice, no source, but for the figures
// "about L 32, C 6", which are the trade's green of ultramarine and ochre as
// the measured paints mix it.

func TestUltramarineAndOchreMakeADarkDullGreen(t *testing.T) {
	found := false
	for _, ochre := range []float64{0.8, 1, 1.25, 1.5, 2} { // near equal volumes
		c := colourOf(t, pile{"ultramarine-blue": 1, "yellow-ochre": ochre})
		t.Logf("1 to %g: L %.1f C %.1f h %.0f", ochre, c.L, c.C, c.H)
		if c.L < 28 || c.L > 38 || c.C > 10 {
			t.Errorf("1 to %g: L %.1f C %.1f, want dark and of low chroma", ochre, c.L, c.C)
		}
		if hueIn(c.H, 130, 200) && c.L > 30 && c.L < 36 && c.C > 3 && c.C < 8 {
			found = true
		}
	}
	if !found {
		t.Error("no near equal mix is a green of about L 32, C 6")
	}
}

func TestBurntSiennaDullsUltramarineAndAlizarinTurnsItViolet(t *testing.T) {
	blue := colourOf(t, pile{"ultramarine-blue": 1})
	dull := pile{"ultramarine-blue": 10, "burnt-sienna": 6}
	grey := colourOf(t, dull)
	if grey.C > 3 || grey.C > blue.C/8 {
		t.Errorf("ultramarine C %.1f, with burnt sienna C %.1f: not near neutral", blue.C, grey.C)
	}
	violet := colourOf(t, dull.with("alizarin-crimson", 4))
	if violet.C < grey.C+2 || !hueIn(violet.H, 300, 350) {
		t.Errorf("with alizarin C %.1f h %.0f, want a violet", violet.C, violet.H)
	}
}

// duskGreen is the low-chroma green that the next checks start from.
var duskGreen = pile{"ultramarine-blue": 5, "yellow-ochre": 10, "titanium-white": 2}

func TestOchreUltramarineWhiteIsALowChromaGreen(t *testing.T) {
	c := colourOf(t, duskGreen)
	t.Logf("L %.1f C %.1f h %.0f", c.L, c.C, c.H)
	if c.C < 4 || c.C > 16 || !hueIn(c.H, 100, 190) {
		t.Errorf("C %.1f h %.0f, want a green of low chroma", c.C, c.H)
	}
}

func TestWhatRaisesAndLowersTheChromaOfAGreen(t *testing.T) {
	start := colourOf(t, duskGreen)
	for _, c := range []struct {
		add    string
		parts  float64
		raises bool
	}{
		{"cadmium-yellow-light", 4, true},
		{"cadmium-yellow-medium", 4, true},
		{"cobalt-teal", 4, true},
		{"phthalo-green-blue-shade", 0.5, true},
		{"phthalo-green-yellow-shade", 0.5, true},
		{"alizarin-crimson", 0.7, false},
		{"burnt-sienna", 0.7, false},
		{"cadmium-red-light", 0.7, false},
	} {
		after := colourOf(t, duskGreen.with(c.add, c.parts))
		t.Logf("%s: C %.1f to %.1f", c.add, start.C, after.C)
		if moved := after.C - start.C; c.raises && moved < 1 || !c.raises && moved > -0.5 {
			t.Errorf("%g of %s takes chroma from %.1f to %.1f (h %.0f)", c.parts, c.add, start.C, after.C, after.H)
		}
	}
}

func TestUltramarineOrTealCoolsAGreen(t *testing.T) {
	green := pile{"hansa-yellow-medium": 6, "phthalo-green-blue-shade": 1, "titanium-white": 6}
	start := colourOf(t, green)
	for _, add := range []string{"ultramarine-blue", "cobalt-teal"} {
		after := colourOf(t, green.with(add, 3))
		if after.H < start.H+3 || after.H > 260 {
			t.Errorf("%s turns hue %.0f to %.0f: not cooler", add, start.H, after.H)
		}
	}
}

func TestPhthaloGreenOutweighsOchre(t *testing.T) {
	start := colourOf(t, duskGreen)
	moved := func(id string) float64 {
		return colour.DE2000(start.Lab(), colourOf(t, duskGreen.with(id, 2)).Lab())
	}
	phthalo, ochre := moved("phthalo-green-blue-shade"), moved("yellow-ochre")
	t.Logf("phthalo %.1f, ochre %.1f", phthalo, ochre)
	if phthalo < 4*ochre {
		t.Errorf("two parts of phthalo green move the mix by %.1f, of ochre by %.1f", phthalo, ochre)
	}
}

func TestUltramarineSiennaWhiteSpanDarkToLight(t *testing.T) {
	last := 0.0
	for i, white := range []float64{0, 0.3, 1, 3, 10, 40, 200, 1000} {
		p := pile{"ultramarine-blue": 10, "burnt-sienna": 7}
		if white > 0 {
			p["titanium-white"] = white
		}
		c := colourOf(t, p)
		if c.C > 14 || i > 0 && c.L < last+2 {
			t.Errorf("white %g: L %.1f C %.1f after L %.1f", white, c.L, c.C, last)
		}
		if i == 0 && c.L > 28 {
			t.Errorf("darkest L %.1f", c.L)
		}
		last = c.L
	}
	if last < 90 {
		t.Errorf("lightest L %.1f", last)
	}
}

// Strong and weak tinters, strongest first (common practice, no source).
func TestTintingStrengthOrder(t *testing.T) {
	c := builtinTubes(t)
	strength := func(id string) float64 {
		tube, err := c.Get(id)
		if err != nil {
			t.Fatal(err)
		}
		return NewSwatch(&tube, c.White(), colour.D65(), film.Dry).TintingStrength
	}
	for _, order := range [][]string{
		{"phthalo-blue-green-shade", "ultramarine-blue", "cobalt-blue"},
		{"prussian-blue", "ultramarine-blue", "cerulean-blue"},
		{"phthalo-green-blue-shade", "viridian", "green-earth"},
		{"dioxazine-violet", "ultramarine-violet"},
		{"red-oxide", "burnt-sienna"},
		{"burnt-umber", "raw-umber"},
		{"mars-black", "ivory-black"},
		{"hansa-yellow-medium", "cadmium-yellow-light", "yellow-ochre"},
	} {
		for i := 1; i < len(order); i++ {
			if a, b := strength(order[i-1]), strength(order[i]); a < b+1 {
				t.Errorf("%s (%.1f) should outtint %s (%.1f)", order[i-1], a, order[i], b)
			}
		}
	}
}
