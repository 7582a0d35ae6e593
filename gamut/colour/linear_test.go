package colour

import (
	"math"
	"testing"
)

// Half the light is coded 188 (IEC 61966-2-1: 255 * (1.055 * 0.5^(1/2.4) - 0.055) = 187.5).
func TestLinearRGB(t *testing.T) {
	if got := (LinearRGB{0.5, 0.5, 0.5}).SRGB().G * 255; math.Abs(got-187.516) > 0.001 {
		t.Errorf("half the light is coded %.3f", got)
	}
	for _, c := range []SRGB{{0, 0, 0}, {1, 1, 1}, {0.02, 0.5, 0.9}} {
		if back := c.Linear().SRGB(); math.Abs(back.R-c.R)+math.Abs(back.G-c.G)+math.Abs(back.B-c.B) > 1e-12 {
			t.Errorf("%v became %v", c, back)
		}
		if c.Linear().Lab() != c.Lab() {
			t.Errorf("%v: %v by linear light, %v straight", c, c.Linear().Lab(), c.Lab())
		}
	}
}
