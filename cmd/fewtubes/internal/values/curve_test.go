package values

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestToPaint(t *testing.T) {
	for _, c := range []struct {
		lo, hi float64
		want   *Curve
	}{
		{30, 90, nil},
		{23, 97, nil},
		{4, 90, &Curve{[3]float64{4, 50, 97}, [3]float64{23, 50, 97}}},
		{30, 100, &Curve{[3]float64{23, 50, 100}, [3]float64{23, 50, 97}}},
	} {
		got := ToPaint(c.lo, c.hi)
		if (got == nil) != (c.want == nil) || got != nil && *got != *c.want {
			t.Errorf("%v to %v: %v, want %v", c.lo, c.hi, got, c.want)
		}
	}
}

// Any curve that Check lets pass keeps the order of values, meets its points and
// stays within its ends; straight ends stay straight.
func TestCurveKeepsOrder(t *testing.T) {
	point := func(t *rapid.T, name string) [3]float64 {
		a := rapid.Float64Range(0, 95).Draw(t, name)
		b := rapid.Float64Range(a+0.5, 98).Draw(t, name)
		return [3]float64{a, b, rapid.Float64Range(b+0.5, 100).Draw(t, name)}
	}
	rapid.Check(t, func(t *rapid.T) {
		c := Curve{point(t, "from"), point(t, "to")}
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		for i := range c.From {
			if math.Abs(c.At(c.From[i])-c.To[i]) > 1e-9 {
				t.Fatalf("%v goes to %v", c.From[i], c.At(c.From[i]))
			}
		}
		last := c.At(0)
		for l := 0.0; l <= 100; l += 0.25 {
			v := c.At(l)
			if v < last-1e-9 || v < c.To[0] || v > c.To[2] {
				t.Fatalf("%v goes to %v after %v", l, v, last)
			}
			last = v
		}
	})
}

func TestToRangeIsValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(0, 80).Draw(t, "lo")
		hi := rapid.Float64Range(lo+10, 100).Draw(t, "hi")
		dark := rapid.Float64Range(0, 99).Draw(t, "dark")
		light := rapid.Float64Range(dark, 100).Draw(t, "light")
		c := ToRange(dark, light, lo, hi)
		if c == nil {
			if dark < lo || light > hi {
				t.Fatal("nothing moved")
			}
			return
		}
		if err := c.Check(); err != nil {
			t.Fatalf("%v: %v", *c, err)
		}
		if c.At(dark) < lo || c.At(light) > hi {
			t.Fatalf("%v leaves %v to %v", *c, c.At(dark), c.At(light))
		}
	})
}

func TestExtremes(t *testing.T) {
	all := make([]float64, 1000)
	for i := range all {
		all[i] = float64(i) / 10
	}
	if lo, hi := Extremes(all); lo != 0.2 || hi != 99.7 {
		t.Errorf("%v to %v", lo, hi)
	}
	if lo, hi := Extremes([]float64{7}); lo != 7 || hi != 7 {
		t.Errorf("%v to %v", lo, hi)
	}
}
