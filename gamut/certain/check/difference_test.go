package check

import (
	"context"
	"math"
	"testing"

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

func (a interval) has(x, spare float64) bool { return a.lo-spare <= x && x <= a.hi+spare }

// The elementary functions hold what package math says, which errs by some units in
// the last place, and are as close as the covering wants them.
func TestElementaryFunctions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(-40, 40).Draw(t, "x")
		s, c := turned(point(x))
		for what, f := range map[string]struct {
			got  interval
			want float64
		}{
			"sine": {s, math.Sin(x)}, "cosine": {c, math.Cos(x)}, "arc tangent": {point(x).arctan(), math.Atan(x)},
			"e^x": {point(-math.Abs(x)).fade(), math.Exp(-math.Abs(x))}, "root": {point(math.Abs(x)).root(), math.Sqrt(math.Abs(x))},
		} {
			const ulps = 4
			if !f.got.has(f.want, ulps*math.Abs(f.want)*0x1p-53) || f.got.hi-f.got.lo > 1e-13*math.Abs(f.want)+1e-13 {
				t.Fatalf("%s of %g: %v, want %g", what, x, f.got, f.want)
			}
		}
	})
}

// The oracle is colour.DE2000, held elsewhere against the 34 pairs of Sharma, Wu,
// Dalal 2005.
func TestDifferenceStaysInItsRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		target, c := drawLab(t, "target"), drawLab(t, "colour")
		side := rapid.Float64Range(0, 8).Draw(t, "side")
		at := func(v float64, part string) interval {
			below := side * rapid.Float64Range(0, 1).Draw(t, part)
			return interval{min(v, v-below), max(v, v-below+side)}
		}
		x := box{at(c.L, "L"), at(c.A, "a"), at(c.B, "b")}
		got := differenceFrom(target).squared(x)
		de := colour.DE2000(target, c)
		if got.v.lo == got.v.lo && !got.v.has(de*de, 1e-10*de*de) { // no number proves nothing
			t.Fatalf("%g squared is not within %v", de, got.v)
		}
	})
}

// On one colour the range is narrow: the square of the difference and no other.
func TestDifferenceIsClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		target, c := drawLab(t, "target"), drawLab(t, "colour")
		got := differenceFrom(target).squared(box{point(c.L), point(c.A), point(c.B)})
		if !got.usable() {
			t.Skip("a bound is promised, no more")
		}
		de := colour.DE2000(target, c)
		spare := 1e-9 * (1 + de*de)
		if rotationJumps(target, c) {
			spare = 1e-3 * (1 + de*de)
		}
		if !got.v.has(de*de, spare) || got.v.hi-got.v.lo > spare {
			t.Fatalf("%v, want %g", got.v, de*de)
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
		got := differenceFrom(target).squared(x)
		if !got.usable() || square(c) > 1e4 {
			t.Skip("no slopes are promised")
		}
		for k, step := range []colour.Lab{{L: h}, {A: h}, {B: h}} {
			p := square(colour.Lab{L: c.L + step.L, A: c.A + step.A, B: c.B + step.B})
			m := square(colour.Lab{L: c.L - step.L, A: c.A - step.A, B: c.B - step.B})
			slope, spare := (p-m)/(2*h), 1e-7*(1+p)
			if rotationJumps(target, c) { // taken for a constant there
				spare = 1e-3 * (1 + p)
			}
			if !got.d[k].has(slope, spare) {
				t.Fatalf("coordinate %d: slope %g is not within %v", k, slope, got.d[k])
			}
		}
	})
}

// rotationJumps reports whether the mean hue lies near 0.
func rotationJumps(p, q colour.Lab) bool {
	mean := p.LCh().H + math.Remainder(q.LCh().H-p.LCh().H, 360)/2
	mean = math.Mod(mean+360, 360)
	return mean < 70 || mean > 340
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
		from := differenceFrom(target)
		over := from.squared(x)
		if !over.usable() {
			t.Skip("no slopes are promised")
		}
		middle, half := x.middle()
		least := leastOf(from.squared(middle).v.lo, &over.d, &half)
		part := func(label string) float64 { return side * rapid.Float64Range(-1, 1).Draw(t, label) }
		at := colour.Lab{L: c.L + part("dL"), A: c.A + part("da"), B: c.B + part("db")}
		if de := colour.DE2000(target, at); de*de < least-1e-9 {
			t.Fatalf("%g squared is below %g", de, least)
		}
	})
}

// Y grows with L* alone: the lightest colour within the tolerance has the target's
// a* and b*.
func TestFacesHoldOrFail(t *testing.T) {
	light := colour.D65()
	c := &Certificate{Claim: Claim{Target: colour.Lab{L: 60, A: 20, B: 30}, Tolerance: 2}}
	l := c.Target.L
	for colour.DE2000(c.Target, colour.Lab{L: l, A: c.Target.A, B: c.Target.B}) < c.Tolerance {
		l += 1e-4
	}
	top := colour.Lab{L: l, A: c.Target.A, B: c.Target.B}.XYZ(light.White).Y
	for _, f := range []struct {
		height float64
		want   bool
	}{{top + 0.05, true}, {top - 0.01, false}} {
		c.Faces = []Face{{Normal: [3]float64{0, 1, 0}, Height: f.height}}
		if _, ok := newCovering(c, light).holds(free(context.Background()), c.Tolerance); ok != f.want {
			t.Errorf("Y <= %g holds: %v", f.height, ok)
		}
	}
}
