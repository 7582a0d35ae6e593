package colour

import (
	"fmt"
	"math"
	"testing"

	"fewtubes/gamut/figures"

	"github.com/lucasb-eyer/go-colorful"
)

// Coded sRGB to Lab and LCh against npm culori 4.0.2 and colorjs.io 0.7.1. They
// hold the primaries' matrix to full precision, IEC 61966-2-1 to four decimals:
// up to 0.025 in chroma, far below one step of 8 bits.
func TestSRGBAgainstCulori(t *testing.T) {
	const tolerance = 0.03
	for _, row := range figures.Rows(t, "testdata/srgb.csv") {
		got, err := Parse("#" + row[0])
		if err != nil {
			t.Fatal(err)
		}
		want := Lab{figures.Number(t, row[1]), figures.Number(t, row[2]), figures.Number(t, row[3])}
		if !near(got, want, tolerance) {
			t.Errorf("%s: %v, want %v", row[0], got, want)
		}
		p := got.LCh()
		if math.Abs(p.C-figures.Number(t, row[4])) > tolerance {
			t.Errorf("%s: chroma %v, want %s", row[0], p.C, row[4])
		}
		if row[5] == "" {
			if p.C > 1e-10 {
				t.Errorf("%s: equal channels have chroma %v", row[0], p.C)
			}
			continue
		}
		// A hue is only as sure as the chroma it stands on.
		if math.Abs(p.H-figures.Number(t, row[5]))*math.Pi/180*p.C > tolerance {
			t.Errorf("%s: hue %v, want %s", row[0], p.H, row[5])
		}
		rgb := want.SRGB().RGB8()
		if s := fmt.Sprintf("%02x%02x%02x", rgb[0], rgb[1], rgb[2]); s != row[0] {
			t.Errorf("%v is coded %s, want %s", want, s, row[0])
		}
	}
}

// Every grey and a sweep of colours come back from Lab as the same bytes, and
// the coding curve agrees with go-colorful v1.4.1.
func TestSRGBBytesRoundTrip(t *testing.T) {
	for v := range 256 {
		for _, rgb := range [][3]uint8{
			{uint8(v), uint8(v), uint8(v)}, {uint8(v), 128, uint8(255 - v)}, {0, uint8(v), 255}, {255, 0, uint8(v)},
		} {
			c := SRGB{float64(rgb[0]) / 255, float64(rgb[1]) / 255, float64(rgb[2]) / 255}
			back := c.Lab().SRGB()
			if !back.Displayable() || back.RGB8() != rgb {
				t.Fatalf("%v came back as %v", rgb, back.RGB8())
			}
			r, g, b := colorful.Color{R: c.R, G: c.G, B: c.B}.LinearRgb()
			for k, d := range [3]float64{decode(c.R) - r, decode(c.G) - g, decode(c.B) - b} {
				if math.Abs(d) > 1e-12 {
					t.Fatalf("%v, channel %d: linear light off by %v", rgb, k, d)
				}
			}
		}
	}
}

func TestDisplayable(t *testing.T) {
	for _, c := range []struct {
		c    SRGB
		want bool
	}{
		{SRGB{0, 0, 0}, true}, {SRGB{1, 1, 1}, true}, {SRGB{-0.001, 0.5, 1.001}, true},
		{SRGB{-0.01, 0.5, 0.5}, false}, {SRGB{0.5, 1.01, 0.5}, false}, {SRGB{0.5, 0.5, math.NaN()}, false},
	} {
		if got := c.c.Displayable(); got != c.want {
			t.Errorf("%v: %v", c.c, got)
		}
	}
	if got := (SRGB{-1, 0.5, 7}).RGB8(); got != [3]uint8{0, 128, 255} {
		t.Errorf("clipped to %v", got)
	}
}
