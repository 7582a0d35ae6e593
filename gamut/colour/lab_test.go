package colour

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// XYZ to Lab and LCh against Debian python3-colormath 3.0.0, which is given the
// same whites.
func TestLabAgainstColormath(t *testing.T) {
	const tolerance = 5e-4 // it rounds the slope of the straight branch to 7.787
	d65, d50, a := XYZ{95.047, 100, 108.883}, XYZ{96.422, 100, 82.521}, XYZ{109.85, 100, 35.585}
	for _, c := range []struct {
		white XYZ
		xyz   XYZ
		want  Lab
		C, h  float64
	}{
		{d65, XYZ{11.1476, 10.0728, 6.80398}, Lab{37.972772, 12.105899, 13.691146}, 18.275674, 48.516446},
		{d65, XYZ{56.0516, 59.4203, 9.25817}, Lab{81.522076, -1.058593, 80.195052}, 80.202038, 90.756273},
		{d65, XYZ{7.98, 6.118, 28.34}, Lab{29.708238, 21.921590, -48.888485}, 53.578354, 294.151458},
		{d65, XYZ{0.5, 0.6, 0.4}, Lab{5.419752, -2.879028, 3.623029}, 4.627650, 128.472290},
		{d50, XYZ{11.1476, 10.0728, 6.80398}, Lab{37.972772, 10.936941, 6.007693}, 12.478343, 28.780118},
		{d50, XYZ{7.98, 6.118, 28.34}, Lab{29.708238, 20.875892, -61.250864}, 64.710673, 288.820449},
		{a, XYZ{0.5, 0.6, 0.4}, Lab{5.419752, -5.639107, -7.871077}, 9.682633, 234.380904},
		{a, XYZ{90, 95, 70}, Lab{98.033518, -23.662094, -53.986226}, 58.944104, 246.332222},
	} {
		got := c.xyz.Lab(c.white)
		p := got.LCh()
		for i, d := range [5]float64{got.L - c.want.L, got.A - c.want.A, got.B - c.want.B, p.C - c.C, p.H - c.h} {
			if math.Abs(d) > tolerance {
				t.Errorf("%v against %v: %v %v, want %v C %v h %v (off by %v in %d)", c.xyz, c.white, got, p, c.want, c.C, c.h, d, i)
			}
		}
	}
}

func TestLabRoundTrips(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawLab(t, "c")
		white := D50().White
		if back := c.XYZ(white).Lab(white); !near(back, c, 1e-9) {
			t.Fatalf("%v through XYZ is %v", c, back)
		}
		if back := c.LCh().Lab(); !near(back, c, 1e-9) {
			t.Fatalf("%v through LCh is %v", c, back)
		}
		if h := c.LCh().H; !(h >= 0 && h < 360) {
			t.Fatalf("hue %v", h)
		}
		if back := c.SRGB().Lab(); !near(back, c, 1e-7) {
			t.Fatalf("%v through sRGB is %v", c, back)
		}
	})
}

// The two branches of the Lab function meet (CIE 015): no step at epsilon.
func TestLabBranchesMeet(t *testing.T) {
	below, above := labF(labEpsilon), labF(math.Nextafter(labEpsilon, 1))
	if math.Abs(below-above) > 1e-15 || math.Abs(below-6.0/29) > 1e-15 {
		t.Errorf("%v below, %v above", below, above)
	}
}

// A hue a rounding below a full turn is 0, not 360.
func TestHueStaysBelow360(t *testing.T) {
	if h := (Lab{50, 10, -1e-300}).LCh().H; h != 0 {
		t.Errorf("hue %v", h)
	}
}

func near(p, q Lab, tolerance float64) bool {
	return math.Abs(p.L-q.L) <= tolerance && math.Abs(p.A-q.A) <= tolerance && math.Abs(p.B-q.B) <= tolerance
}
