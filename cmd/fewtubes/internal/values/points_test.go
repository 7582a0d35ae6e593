package values

import (
	"testing"

	"fewtubes/gamut/bounded"
)

func TestParsePoints(t *testing.T) {
	want := Curve{[3]float64{4, 50, 98}, [3]float64{23, 50, 97}}
	got, err := ParsePoints("0.4:2.3, 5:5 ,9.8:9.7")
	if err != nil || got != want {
		t.Errorf("%v, %v", got, err)
	}
	if text := want.Points(); text != "0.4:2.3,5:5,9.8:9.7" {
		t.Errorf("written %q", text)
	}
	for _, bad := range []string{"", "1:2,3:4", "1:2,3:4,5:6,7:8", "1,2,3", "a:1,2:3,4:5", "0:2,5:5,11:9", "0:2,5:2,9:9", "5:1,4:5,9:9", "NaN:1,4:5,9:9"} {
		if c, err := ParsePoints(bad); err == nil {
			t.Errorf("%q became %v", bad, c)
		}
	}
}

func FuzzParsePoints(f *testing.F) {
	f.Add("0.4:2.3,5:5,9.8:9.7")
	f.Add("0:0;1e-9:1e0 10:10")
	f.Fuzz(func(t *testing.T, text string) {
		var c Curve
		var err error
		bounded.Work(t, len(text), func() { c, err = ParsePoints(text) })
		if err != nil {
			bounded.Refusal(t, err)
			return
		}
		if c.Check() != nil {
			t.Fatalf("%q: %v", text, c)
		}
		for l := range 101 {
			if v := c.At(float64(l)); !(v >= -1e-9 && v <= 100+1e-9) {
				t.Fatalf("%q: %v becomes %v", text, l, v)
			}
		}
	})
}
