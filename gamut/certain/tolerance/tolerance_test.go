package tolerance

import (
	"context"
	"math"
	"testing"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"

	"pgregory.net/rapid"
)

func drawLab(t *rapid.T, label string) colour.Lab {
	c := colour.LCh{
		L: rapid.Float64Range(0, 100).Draw(t, label+" L"),
		C: rapid.Float64Range(0, 110).Draw(t, label+" C"),
		H: rapid.Float64Range(0, 360).Draw(t, label+" h"),
	}
	return c.Lab()
}

func inside(x float64, r interval) bool { return r.lo <= x && x <= r.hi }

// The oracle is colour.DE2000, held elsewhere against the 34 pairs of Sharma, Wu,
// Dalal 2005.
func TestDifferenceStaysInItsRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		target, c := drawLab(t, "target"), drawLab(t, "colour")
		side := rapid.Float64Range(0, 8).Draw(t, "side")
		at := func(v float64, part string) interval {
			below := side * rapid.Float64Range(0, 1).Draw(t, part)
			return interval{v - below, v - below + side}
		}
		x := box{at(c.L, "L"), at(c.A, "a"), at(c.B, "b")}
		for k, v := range [3]float64{c.L, c.A, c.B} {
			x[k].lo, x[k].hi = min(x[k].lo, v), max(x[k].hi, v)
		}
		got := x.squared(target)
		de := colour.DE2000(target, c)
		if !inside(de*de, interval{got.v.lo - 1e-10*de*de, got.v.hi + 1e-10*de*de}) {
			t.Fatalf("%g squared is not within %v", de, got.v)
		}
	})
}

// Slopes are held against central differences of colour.DE2000.
func TestSlopesHoldDifferences(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		target, c := drawLab(t, "target"), drawLab(t, "colour")
		const h = 1e-4
		square := func(c colour.Lab) float64 { d := colour.DE2000(target, c); return d * d }
		x := box{{c.L - h, c.L + h}, {c.A - h, c.A + h}, {c.B - h, c.B + h}}
		got := x.squared(target)
		if !got.usable() || square(c) > 1e4 {
			t.Skip("no slopes are promised")
		}
		for k, step := range []colour.Lab{{L: h}, {A: h}, {B: h}} {
			p := square(colour.Lab{L: c.L + step.L, A: c.A + step.A, B: c.B + step.B})
			m := square(colour.Lab{L: c.L - step.L, A: c.A - step.A, B: c.B - step.B})
			slope, spare := (p-m)/(2*h), 1e-7*(1+p)
			if bell(sloped{v: hueBetween(target, c)}).v.lo == 0 { // taken for a constant there
				spare = 1e-3 * (1 + p)
			}
			if !inside(slope, interval{got.d[k].lo - spare, got.d[k].hi + spare}) {
				t.Fatalf("coordinate %d: slope %g is not within %v", k, slope, got.d[k])
			}
		}
	})
}

// hueBetween is about the mean hue of two colours, in radians from -pi on.
func hueBetween(p, q colour.Lab) interval {
	h, turn := p.LCh().H, math.Remainder(q.LCh().H-p.LCh().H, 360)
	mean := math.Remainder(h+turn/2, 360) * degree
	return interval{mean - 0.2, mean + 0.2} // a' turns both a little
}

// Hues about 0 are where the mean hue of CIEDE2000 jumps by a turn.
func TestSlopesHoldAcrossTheTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		near := func(label string) colour.Lab {
			c := colour.LCh{
				L: rapid.Float64Range(20, 80).Draw(t, label+" L"),
				C: rapid.Float64Range(20, 90).Draw(t, label+" C"),
				H: rapid.Float64Range(-6, 6).Draw(t, label+" h"),
			}
			return c.Lab()
		}
		target, c := near("target"), near("colour")
		side := rapid.Float64Range(0.01, 1).Draw(t, "side")
		x := box{{c.L - side, c.L + side}, {c.A - side, c.A + side}, {c.B - side, c.B + side}}
		d := x.squared(target)
		if !d.usable() {
			t.Skip("no slopes are promised")
		}
		mid, half := x.middle()
		least := lowest(box{point(mid[0]), point(mid[1]), point(mid[2])}.squared(target).v.lo, d.d, half)
		part := func(label string) float64 { return side * rapid.Float64Range(-1, 1).Draw(t, label) }
		at := colour.Lab{L: c.L + part("dL"), A: c.A + part("da"), B: c.B + part("db")}
		if de := colour.DE2000(target, at); de*de < least-1e-9 {
			t.Fatalf("%g squared is below %g", de, least)
		}
	})
}

func TestFacesHoldOrFail(t *testing.T) {
	white := colour.D65().White
	target := colour.Lab{L: 60, A: 20, B: 30}
	const tol = 2.0
	// Y grows with L* alone: the lightest colour within the tolerance has the
	// target's a and b
	l := target.L
	for colour.DE2000(target, colour.Lab{L: l, A: target.A, B: target.B}) < tol {
		l += 1e-4
	}
	top := colour.Lab{L: l, A: target.A, B: target.B}.XYZ(white).Y
	for _, c := range []struct {
		height float64
		want   bool
	}{{top + 0.05, true}, {top - 0.01, false}} {
		if _, ok := Holds(context.Background(), target, white, tol, []check.Face{{Normal: [3]float64{0, 1, 0}, Height: c.height}}, 400_000); ok != c.want {
			t.Errorf("Y <= %g holds: %v", c.height, ok)
		}
	}
}
