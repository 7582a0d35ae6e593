package colour

import (
	"math"
	"testing"
)

// The Bradford matrices B. Lindbloom publishes ("Chromatic adaptation",
// brucelindbloom.com), seven decimals, from memory; the one for C to D65 also
// stands, transposed and rounded to six, in Debian r-cran-munsell 0.5.0.
func TestAdaptBradfordMatrices(t *testing.T) {
	c, d50, d65 := IlluminantC, XYZ{96.422, 100, 82.521}, XYZ{95.047, 100, 108.883}
	for _, m := range []struct {
		name     string
		from, to XYZ
		want     [3][3]float64
	}{
		{"C to D65", c, d65, [3][3]float64{
			{0.9904476, -0.0071683, -0.0116156}, {-0.0123712, 1.0155950, -0.0029282}, {-0.0035635, 0.0067697, 0.9181569},
		}},
		{"D50 to D65", d50, d65, [3][3]float64{
			{0.9555766, -0.0230393, 0.0631636}, {-0.0282895, 1.0099416, 0.0210077}, {0.0122982, -0.0204830, 1.3299098},
		}},
	} {
		for j, unit := range [3]XYZ{{X: 1}, {Y: 1}, {Z: 1}} {
			got := Adapt(unit, m.from, m.to)
			for i, v := range [3]float64{got.X, got.Y, got.Z} {
				if math.Abs(v-m.want[i][j]) > 2e-7 {
					t.Errorf("%s [%d][%d]: %.7f, want %.7f", m.name, i, j, v, m.want[i][j])
				}
			}
		}
	}
}

func TestAdaptWhiteAndBack(t *testing.T) {
	c, d65 := IlluminantC, D65().White
	white := Adapt(c, c, d65)
	if !near(white.Lab(d65), Lab{100, 0, 0}, 1e-9) {
		t.Errorf("the white of C becomes %v", white)
	}
	p := XYZ{20, 30, 10}
	if back := Adapt(Adapt(p, c, d65), d65, c); !near(back.Lab(c), p.Lab(c), 1e-9) {
		t.Errorf("%v there and back is %v", p, back)
	}
}
