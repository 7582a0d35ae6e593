package air_test

import (
	"fmt"
	"math"
	"testing"

	"fewtubes/catalog"
	"fewtubes/gamut/air"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"

	"pgregory.net/rapid"
)

func newAir(t testing.TB, visualRange float64) *air.Air {
	t.Helper()
	a, err := air.New(visualRange, air.UsualExponent)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// The law's closed form (Koschmieder 1924; Middleton 1952), worked out here with
// package math.
const closedForm = 1e-9

func TestClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		visual, exponent := rapid.Float64Range(0.2, 330).Draw(t, "range"), rapid.Float64Range(0, 4).Draw(t, "exponent")
		km := rapid.Float64Range(0, 60).Draw(t, "km")
		a, err := air.New(visual, exponent)
		if err != nil {
			t.Fatal(err)
		}
		var surface, airlight colour.Spectrum
		for i := range surface {
			surface[i] = rapid.Float64Range(0.01, 0.99).Draw(t, "surface")
			airlight[i] = rapid.Float64Range(0.01, 1).Draw(t, "airlight")
		}
		seen := a.Seen(&surface, &airlight, km)
		back := a.Cleared(&seen, &airlight, km)
		for i := range seen {
			nm := float64(380 + 10*i)
			b := 0.0116*math.Pow(nm/550, -4) + (3.912/visual-0.0116)*math.Pow(nm/550, -exponent)
			left := math.Exp(-b * km)
			if want := surface[i]*left + airlight[i]*(1-left); math.Abs(seen[i]-want) > closedForm {
				t.Fatalf("%v nm: %v, want %v", nm, seen[i], want)
			}
			if left > 1e-5 && math.Abs(back[i]-surface[i]) > closedForm {
				t.Fatalf("%v nm: %v cleared, was %v", nm, back[i], surface[i])
			}
		}
	})
}

// Worked values as published. Deciviews with their extinctions and visual ranges
// are the scale of W. C. Malm, Introduction to Visibility (1999), in whole
// numbers, from memory; it takes 3.912 / b for the range. That clean air scatters
// 0.01162 per km at 550 nm, 0.0436 at 400 and 0.00433 at 700 is R. Penndorf, J.
// Opt. Soc. Am. 47:176-182 (1957), from memory; the fourth power leaves 5 % at the
// ends of the spectrum, where the air's index of refraction rises.
func TestWorkedValues(t *testing.T) {
	for _, c := range []struct{ perMegametre, deciview, km float64 }{
		{10, 0, 400}, {20, 7, 200}, {50, 16, 80}, {100, 23, 40}, {200, 30, 20}, {400, 37, 10}, {1000, 46, 4},
	} {
		b := c.perMegametre / 1000
		if got := air.Deciview(b); math.Abs(got-c.deciview) > 0.5 {
			t.Errorf("%v per Mm: %v deciview, want %v", c.perMegametre, got, c.deciview)
		}
		if got := air.Koschmieder / b; math.Abs(got/c.km-1) > 0.025 {
			t.Errorf("%v per Mm: %v km, want %v", c.perMegametre, got, c.km)
		}
	}
	clean, err := air.New(air.Farthest, 0)
	if err != nil {
		t.Fatal(err)
	}
	for nm, want := range map[int]float64{400: 0.0436, 550: 0.01162, 700: 0.00433} {
		if got := clean.Extinction[(nm-colour.StartNM)/colour.StepNM]; math.Abs(got/want-1) > 0.05 {
			t.Errorf("clean air at %d nm: %v per km, want %v", nm, got, want)
		}
	}
	// At the visual range black stands out by 2 % from the airlight.
	black, airlight := colour.Flat(0), colour.Flat(0.6)
	seen := newAir(t, 20).Seen(&black, &airlight, 20)
	if contrast := 1 - seen[(550-colour.StartNM)/colour.StepNM]/0.6; math.Abs(contrast-0.02) > 1e-5 {
		t.Errorf("contrast %v at the visual range", contrast)
	}
}

func TestRefusals(t *testing.T) {
	for _, c := range [][2]float64{{0, 1}, {-3, 1}, {math.NaN(), 1}, {400, 1}, {20, -1}, {20, 5}, {20, math.NaN()}} {
		if _, err := air.New(c[0], c[1]); err == nil {
			t.Errorf("%v is air", c)
		}
	}
	if _, err := air.ParseHue("felt"); err == nil {
		t.Error("a third reading of hue")
	}
}

var horizon = colour.Lab{L: 78, A: -2, B: -6}

// Surfaces of measured paints stand in three planes of a haze computed from
// their spectra band by band. What is known to the law is their colours in the
// first two: the range that carries the first best into the second carries it
// into the third within 1.
func TestTwoPlanesForetellTheThird(t *testing.T) {
	const foretold = 1.0 // CIEDE2000
	tubes, err := catalog.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	truth := newAir(t, 17)
	bright, err := film.Reconstruct(horizon, colour.D65(), film.Surface{})
	if err != nil {
		t.Fatal(err)
	}
	white, _ := tubes.Find("titanium-white")
	var planes [3][]colour.Lab
	for _, tube := range tubes.Tubes() {
		if tube.Basis != "measured" {
			continue
		}
		surface := tube.Paint.Tint(&white.Paint, 3, film.Dry)
		for i, km := range []float64{1, 3, 8} {
			seen := truth.Seen(&surface, &bright, km)
			planes[i] = append(planes[i], colour.D65().Lab(&seen))
		}
	}
	worst := func(visual float64, from, to int, km [2]float64) (most float64) {
		v := air.NewView(newAir(t, visual), horizon, colour.D65(), air.Measured)
		for i, c := range planes[from] {
			most = max(most, colour.DE2000(v.Moved(c, km[0], km[1]), planes[to][i]))
		}
		return most
	}
	best, least := 0.0, math.Inf(1)
	for visual := 10.0; visual < 30; visual += 0.5 {
		if w := worst(visual, 0, 1, [2]float64{1, 3}); w < least {
			best, least = visual, w
		}
	}
	third := worst(best, 1, 2, [2]float64{3, 8})
	t.Logf("%d surfaces: range %v km found for 17, second plane within %.2f, third within %.2f", len(planes[0]), best, least, third)
	if third > foretold || len(planes[0]) < 20 {
		t.Errorf("the third plane is off by %v", third)
	}
}

// Moving in two steps is moving once; at the same distance
// nothing moves, and far off all is airlight. As seen, hue holds.
func TestMoved(t *testing.T) {
	for _, hue := range []air.Hue{air.Measured, air.Perceived} {
		v := air.NewView(newAir(t, 20), horizon, colour.D65(), hue)
		rapid.Check(t, func(t *rapid.T) {
			p := colour.LCh{L: rapid.Float64Range(25, 75).Draw(t, "L"), C: rapid.Float64Range(0, 40).Draw(t, "C"), H: rapid.Float64Range(0, 360).Draw(t, "H")}
			km := rapid.Float64Range(0, 6).Draw(t, "km")
			c := p.Lab()
			if v.Moved(c, km, km) != c {
				t.Fatal("a colour moved by nothing")
			}
			there := v.Moved(c, 0, km)
			on := rapid.Float64Range(0, 6).Draw(t, "on")
			if d := colour.DE2000(v.Moved(there, km, km+on), v.Moved(c, 0, km+on)); d > 1.5 { // by another spectrum of the same colour
				t.Fatalf("%v moved by %v and %v km is off by %v", c, km, on, d)
			}
			if d := colour.DE2000(v.Possible(there, km), there); d > 2 { // by another spectrum, too
				t.Fatalf("%v at %v km is held impossible by %v", there, km, d)
			}
			if hue == air.Perceived && p.C > 1 {
				if turned := math.Abs(math.Remainder(there.LCh().H-c.LCh().H, 360)); turned > 1e-6 {
					t.Fatalf("the hue turned by %v", turned)
				}
			}
			if hue == air.Measured {
				if d := colour.DE2000(v.Moved(c, 0, 900), horizon); d > 0.01 {
					t.Fatalf("%v from the airlight at 900 km", d)
				}
			}
		})
	}
}

// Whatever colour and distances are asked for, a colour comes back.
func TestMovedIsFinite(t *testing.T) {
	for _, hue := range []air.Hue{air.Measured, air.Perceived} {
		for _, visual := range []float64{0.001, 20, 337} {
			for _, airlight := range []colour.Lab{{L: 100}, {}, {L: 60, A: 90, B: -90}} {
				v := air.NewView(newAir(t, visual), airlight, colour.D65(), hue)
				for _, c := range []colour.Lab{{}, {L: 100}, {L: 32, A: 79, B: -108}, {L: 97, A: -22, B: 94}, {L: 50, A: -120}} {
					for _, from := range []float64{0, 5, 1000} {
						for _, to := range []float64{0, 5, 1000} {
							if got := v.Moved(c, from, to); !got.Finite() || got.L < -1 || got.L > 101 {
								t.Errorf("%v from %v to %v km through %v: %v", c, from, to, visual, got)
							}
						}
					}
				}
			}
		}
	}
}

// A black seen through 3 km can lie 3 km off and hardly farther; what has the
// colour of the airlight may lie anywhere.
func TestFarthest(t *testing.T) {
	v := air.NewView(newAir(t, 20), horizon, colour.D65(), air.Measured)
	if got := v.Farthest(v.Moved(colour.Lab{L: 1}, 0, 3), 1); got < 3 || got > 3.3 {
		t.Errorf("a black seen through 3 km lies at most %v off", got)
	}
	if got := v.Farthest(horizon, 1); got < 999 {
		t.Errorf("the airlight itself lies at most %v km off", got)
	}
}

func ExampleView_Moved() {
	clear, err := air.New(20, air.UsualExponent)
	if err != nil {
		panic(err)
	}
	v := air.NewView(clear, colour.Lab{L: 78, A: -2, B: -6}, colour.D65(), air.Measured)
	wood := colour.Lab{L: 32, A: -12, B: 16}
	for _, km := range []float64{1, 3, 6} {
		c := v.Moved(wood, 0, km)
		fmt.Printf("%g km: lab(%.0f %.0f %.0f)\n", km, c.L, c.A, c.B)
	}
	// Output:
	// 1 km: lab(46 -6 -3)
	// 3 km: lab(59 -4 -9)
	// 6 km: lab(69 -3 -10)
}
