package colour

import (
	"math"
	"testing"
)

// Small steps, by the metric and by CIEDE2000 itself, and the slopes of CIELAB against
// differences.
func TestMetricAndSlopesNearAColour(t *testing.T) {
	const step, within, h = 0.05, 0.01, 1e-4
	white := D65().White
	for _, c := range []Lab{{L: 50, A: 20, B: -30}, {L: 85, A: -5, B: 60}, {L: 20, A: 2, B: 1}, {L: 40, A: -40, B: 10}} {
		root := Metric(c)
		for _, d := range [][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {0.5, -0.7, 0.5}} {
			sum := 0.0
			for i := range 3 {
				v := 0.0
				for k := range 3 {
					v += root[k][i] * d[k] * step
				}
				sum += v * v
			}
			want := DE2000(c, Lab{L: c.L + d[0]*step, A: c.A + d[1]*step, B: c.B + d[2]*step})
			if got := math.Sqrt(sum); math.Abs(got-want) > within*want {
				t.Errorf("%v by %v: %.5f, want %.5f", c, d, got, want)
			}
		}
		at, slopes := c.XYZ(white), c.Slopes(white)
		for k := range 3 {
			up, down := at, at
			*[]*float64{&up.X, &up.Y, &up.Z}[k] += h
			*[]*float64{&down.X, &down.Y, &down.Z}[k] -= h
			p, q := up.Lab(white), down.Lab(white)
			for i, want := range []float64{p.L - q.L, p.A - q.A, p.B - q.B} {
				if want /= 2 * h; math.Abs(slopes[i][k]-want) > 1e-4*max(1, math.Abs(want)) {
					t.Errorf("%v: %d by %d: %g, want %g", c, i, k, slopes[i][k], want)
				}
			}
		}
	}
}
