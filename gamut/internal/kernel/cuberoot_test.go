package kernel

import (
	"math"
	"testing"
)

// The general-purpose cube root of package math is the measure.
func TestLabFAgainstCbrt(t *testing.T) {
	const lastPlaces = 1e-15
	for v := 216.0 / 24389 * (1 + 1e-12); v < 3; v *= 1.0001 {
		want := math.Cbrt(v)
		f, slope := labF(v)
		if math.Abs(f/want-1) > lastPlaces || math.Abs(slope*3*want*want-1) > 4*lastPlaces {
			t.Fatalf("f(%v) = %v, %v; want %v", v, f, slope, want)
		}
	}
	// Both branches meet at the same value and slope (CIE 015).
	below, slopeBelow := labF(216.0 / 24389)
	above, slopeAbove := labF(math.Nextafter(216.0/24389, 1))
	if math.Abs(below-above) > lastPlaces || math.Abs(slopeBelow/slopeAbove-1) > 1e-12 {
		t.Errorf("%v, %v and %v, %v at the joint", below, slopeBelow, above, slopeAbove)
	}
}
