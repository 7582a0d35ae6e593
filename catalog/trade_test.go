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

// The checks below are common practice, no source, where none is named.

// Painters mix their dull greens of ultramarine and yellow ochre.
func TestUltramarineAndOchreMakeADullGreen(t *testing.T) {
	for _, ochre := range []float64{1, 1.25, 1.5} { // near equal volumes
		p := pile{"ultramarine-blue": 1, "yellow-ochre": ochre}
		for _, c := range []colour.LCh{colourOf(t, p), colourOf(t, p.with("titanium-white", 1))} {
			t.Logf("1 to %g: L %.1f C %.1f h %.0f", ochre, c.L, c.C, c.H)
			if !hueIn(c.H, 100, 200) || c.C > 15 {
				t.Errorf("1 to %g: C %.1f h %.0f, want a green of low chroma", ochre, c.C, c.H)
			}
		}
	}
	if c := colourOf(t, pile{"ultramarine-blue": 1, "yellow-ochre": 1}); c.L < 28 || c.L > 38 {
		t.Errorf("1 to 1: L %.1f, want dark", c.L)
	}
}

// leastChroma is what one tube brings another to, at any ratio near equal.
func leastChroma(t *testing.T, a, b string) (least colour.LCh) {
	t.Helper()
	least.C = 1e9
	for part := 0.2; part < 5; part *= 1.1 {
		if c := colourOf(t, pile{a: 1, b: part}); c.C < least.C {
			least = c
		}
	}
	return least
}

func TestBurntSiennaDullsUltramarineAndAlizarinTurnsItViolet(t *testing.T) {
	if c := leastChroma(t, "ultramarine-blue", "burnt-sienna"); c.C > 4 {
		t.Errorf("burnt sienna takes ultramarine to C %.1f, not near neutral", c.C)
	}
	dull := pile{"ultramarine-blue": 10, "burnt-sienna": 6}
	grey, violet := colourOf(t, dull), colourOf(t, dull.with("alizarin-crimson", 10))
	if violet.C < grey.C+2 || !hueIn(violet.H, 300, 350) {
		t.Errorf("C %.1f, with alizarin C %.1f h %.0f, want a violet", grey.C, violet.C, violet.H)
	}
}

// The landscape painter's greys: ultramarine, burnt sienna and white.
func TestUltramarineSiennaWhiteMakeGreys(t *testing.T) {
	const within, chroma = 5, 4
	for _, l := range []float64{30, 40, 50, 60, 70, 80, 90} {
		best, least := colour.LCh{}, 1e9
		for white := 0.02; white < 300; white *= 1.15 {
			for part := 0.4; part < 1.6; part += 0.1 {
				c := colourOf(t, pile{"ultramarine-blue": 1, "burnt-sienna": part, "titanium-white": white})
				if d := colour.DE2000(c.Lab(), colour.Lab{L: l}); d < least {
					best, least = c, d
				}
			}
		}
		if least > within || best.C > chroma {
			t.Errorf("grey of L %g: nearest L %.1f C %.1f, %.1f away", l, best.L, best.C, least)
		}
	}
}

// One part of carbon black carries many of white to a middle grey.
func TestCarbonBlackGoesFar(t *testing.T) {
	const middle, far = 50.0, 4
	parts := 1.0
	for colourOf(t, pile{"carbon-black": 1, "titanium-white": parts}).L < middle {
		parts *= 1.05
	}
	t.Logf("%.1f parts of white", parts)
	if parts < far {
		t.Errorf("a middle grey takes %.1f parts of white to one of carbon black", parts)
	}
}

func TestPhthaloBlueStaysStrongInTints(t *testing.T) {
	for _, id := range []string{"phthalo-blue-green-shade", "phthalo-blue-red-shade"} {
		ten, hundred := colourOf(t, pile{id: 1, "titanium-white": 10}), colourOf(t, pile{id: 1, "titanium-white": 100})
		if ten.L > 72 || hundred.C < 15 {
			t.Errorf("%s: L %.1f in ten of white, C %.1f in a hundred", id, ten.L, hundred.C)
		}
	}
}

// A tube called transparent lets black show: a film of 25 um, as a drawdown dries to,
// lightens a black ground (reflectance factor 0.04) by little more than one step of
// value, a semi-transparent one by at most two and a half. Hiding is not asked:
// dark paints hide black by being as dark.
func TestTransparentTubesScatterLittle(t *testing.T) {
	most := map[string]float64{"transparent": 12.5, "semi-transparent": 26} // L*
	c := builtinTubes(t)
	scale, black := c.Scale(), colour.Flat(0.04)
	for _, tube := range c.Tubes() {
		bound, ok := most[tube.Opacity]
		if !ok {
			continue
		}
		over := scale.Film(&tube.Paint, 25, &black)
		if by := colour.D65().Lab(&over).L - colour.D65().Lab(&black).L; by > bound {
			t.Errorf("%s is called %s and lightens black by L* %.1f", tube.ID, tube.Opacity, by)
		}
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
	for i, white := range []float64{0, 0.3, 1, 3, 10, 40, 200, 2000} {
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
