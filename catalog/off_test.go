package catalog

import (
	"math"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film/doubt"
)

// Strength alone moves neither masstone nor tint, and two in three normal draws
// lie within 0.97 standard deviations.
func TestOffOfStrengthAlone(t *testing.T) {
	c := builtinTubes(t)
	tube := mustGet(t, "cobalt-blue")
	tube.Doubt = doubt.Spread{Strength: 0.45}
	off := NewOff(&tube, c.White(), colour.D65(), c.Scale().Surface)
	if want := math.Exp(0.97 * 0.45); math.Abs(off.Strength-want) > 0.1 || off.Masstone > 0.01 || off.Tint > 0.01 {
		t.Errorf("%+v, want strength %.2f", off, want)
	}
}

// A tube read from the chart is off by more than a measured one; white and black, too,
// stay within what paints can be.
func TestOffOfTheTubes(t *testing.T) {
	c := builtinTubes(t)
	mean := map[Basis][2]float64{}
	for _, tube := range c.Tubes() {
		off := NewOff(&tube, c.White(), colour.D65(), c.Scale().Surface)
		if off.Strength < 1 || off.Strength > 3 || off.Masstone > 20 || off.Tint > 15 {
			t.Errorf("%s: %+v", tube.ID, off)
		}
		m := mean[tube.Basis]
		mean[tube.Basis] = [2]float64{m[0] + off.Tint, m[1] + 1}
	}
	if m, e := mean[Measured], mean[Estimated]; m[0]/m[1]*1.5 > e[0]/e[1] {
		t.Errorf("tints of measured tubes are off by %.1f in the mean, of estimated ones by %.1f", m[0]/m[1], e[0]/e[1])
	}
}
