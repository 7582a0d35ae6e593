package colour

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
	"fewtubes/gamut/figures"

	"pgregory.net/rapid"
)

// The tolerances asked of a conversion inside the data.
const (
	hueTolerance    = 0.1
	valueTolerance  = 0.02
	chromaTolerance = 0.1
)

// Every one of the 2,729 published points both ways: notation to the published
// x, y under illuminant C, and from those back to the notation.
func TestRenotationBothWays(t *testing.T) {
	rd := csv.NewReader(strings.NewReader(renotationCSV))
	rd.Comment, rd.FieldsPerRecord = '#', -1
	rows, err := rd.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	points := 0
	for _, row := range rows[1:] {
		for i, field := range row[2:] {
			points++
			m, err := ParseMunsell(row[0] + " " + row[1] + "/" + strconv.Itoa(2*(i+1)))
			if err != nil {
				t.Fatal(err)
			}
			sx, sy, _ := strings.Cut(field, " ")
			x, y := figures.Number(t, sx), figures.Number(t, sy)
			c, inside := m.Lab()
			if !inside {
				t.Errorf("%v is published, yet called outside", m)
			}
			got := Adapt(c.XYZ(D65().White), D65().White, IlluminantC)
			sum := got.X + got.Y + got.Z
			if math.Abs(got.X/sum-x) > 1e-6 || math.Abs(got.Y/sum-y) > 1e-6 {
				t.Errorf("%v: x %.6f y %.6f, published %v %v", m, got.X/sum, got.Y/sum, x, y)
			}
			Y := MunsellY(m.Value)
			back, _ := Adapt(XYZ{x / y * Y, Y, (1 - x - y) / y * Y}, IlluminantC, D65().White).Lab(D65().White).Munsell()
			if !nearMunsell(back, m) {
				t.Errorf("%v comes back as %v", m, back)
			}
		}
	}
	if points != 2729 {
		t.Errorf("%d points", points)
	}
}

func nearMunsell(p, q Munsell) bool {
	dh := math.Abs(math.Remainder(p.Hue-q.Hue, 100))
	if min(p.Chroma, q.Chroma) < 0.5 {
		dh *= min(p.Chroma, q.Chroma) // near grey a hue means little
	}
	return dh <= hueTolerance && math.Abs(p.Value-q.Value) <= valueTolerance && math.Abs(p.Chroma-q.Chroma) <= chromaTolerance
}

// Any notation inside the data comes back as itself.
func TestMunsellRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Munsell{
			rapid.Float64Range(0, 99.999).Draw(t, "hue"),
			rapid.Float64Range(1, 9).Draw(t, "value"),
			rapid.Float64Range(0, 20).Draw(t, "chroma"),
		}
		c, inside := m.Lab()
		if !inside {
			return
		}
		if back, _ := c.Munsell(); !nearMunsell(back, m) {
			t.Fatalf("%v is %v, which comes back as %v", m, c, back)
		}
	})
}

// npm munsell 1.1.6 interpolates the same table on its own. First notation to
// L*, C*ab, hab under illuminant C, then sRGB codes to notation (its Bradford
// too); it takes the white of C in the fifth digit differently.
func TestMunsellAgainstNpm(t *testing.T) {
	for _, c := range []struct {
		m    Munsell
		want LCh
	}{
		{Munsell{33.7, 5.4, 6.3}, LCh{55.0503, 45.1521, 113.6597}},
		{Munsell{18, 3.3, 5}, LCh{33.4806, 30.6536, 68.7963}},
		{Munsell{71.2, 4.5, 7.7}, LCh{45.8936, 31.2500, 258.5887}},
		{Munsell{95, 2.5, 9.1}, LCh{25.2563, 42.1336, 345.9567}},
		{Munsell{7, 6.6, 11}, LCh{66.9589, 52.4681, 35.6074}},
		{Munsell{24.9, 8.3, 9}, LCh{83.4170, 64.5289, 93.9275}},
		{Munsell{52.5, 5.5, 3}, LCh{56.0558, 15.6785, 178.8496}},
		{Munsell{45.1, 6, 1}, LCh{61.0465, 6.0463, 159.8839}},
		{Munsell{66, 3.7, 4.4}, LCh{37.6281, 19.4131, 235.8468}},
		{Munsell{81, 2.2, 6}, LCh{22.2291, 28.9611, 307.3495}},
	} {
		got := XYZ{Y: MunsellY(c.m.Value)}.Lab(IlluminantC)
		p, inside := renotationData().at(c.m)
		got.A, got.B = p.a, p.b
		if d := DE2000(got, c.want.Lab()); d > 0.02 || !inside {
			t.Errorf("%v: %v, want %v (%.3f)", c.m, got.LCh(), c.want, d)
		}
	}
	for _, c := range []struct {
		hex  string
		want Munsell
	}{
		{"#7a8c5a", Munsell{35.7410, 5.4582, 4.2486}}, {"#b5651d", Munsell{14.9601, 4.9958, 9.7831}},
		{"#2f4f4f", Munsell{56.4388, 3.0828, 2.5769}}, {"#c8b48c", Munsell{22.4408, 7.3272, 3.3036}},
		{"#405070", Munsell{75.5473, 3.3537, 4.5169}}, {"#e6d7a8", Munsell{24.2101, 8.5763, 3.3188}},
		{"#9fb8c8", Munsell{70.6145, 7.2658, 3.2422}}, {"#d98e73", Munsell{10.4423, 6.5063, 6.9760}},
		{"#587058", Munsell{40.3102, 4.3839, 2.9210}}, {"#6b4e71", Munsell{86.5208, 3.6890, 5.0316}},
		{"#3d5a3a", Munsell{39.3003, 3.4611, 3.9726}}, {"#a03030", Munsell{6.5781, 3.6970, 10.4199}},
	} {
		got, inside := must(Parse(c.hex)).Munsell()
		if !nearMunsell(got, c.want) || !inside {
			t.Errorf("%s: %v, want %v", c.hex, got, c.want)
		}
	}
}

// The luminous reflectances of the original study (1943) stand against
// magnesium oxide; ASTM D1535-08 multiplies them by 0.975 for the perfect
// diffuser. Rounded to four figures in the table of 1943.
func TestMunsellValueFunction(t *testing.T) {
	for i, oxide := range []float64{1.210, 3.126, 6.555, 12.00, 19.77, 30.05, 43.06, 59.10, 78.66} {
		if got, want := MunsellY(float64(i+1)), 0.975*oxide; math.Abs(got-want) > 5e-4*want {
			t.Errorf("value %d: %.4f, want %.4f", i+1, got, want)
		}
	}
	if y := MunsellY(10); math.Abs(y-100) > 0.01 {
		t.Errorf("value 10: %v", y)
	}
	for v := 0.0; v <= 10; v += 0.01 {
		if back := munsellValue(MunsellY(v)); math.Abs(back-v) > 1e-9 {
			t.Errorf("value %v comes back as %v", v, back)
		}
	}
}

// Painted chips are not the renotation: over the 1,269 of the whole set the mean
// is 2.8, so a mean near that says hue, value and chroma go the right way.
func TestMunsellChips(t *testing.T) {
	check := func(what string, sum float64, n int) {
		t.Logf("%s: mean %.2f over %d chips", what, sum/float64(n), n)
		if mean := sum / float64(n); mean < 2 || mean > 3.5 {
			t.Errorf("%s: mean %.2f over %d chips", what, mean, n)
		}
	}
	sum, n := 0.0, 0
	for _, row := range figures.Rows(t, "testdata/chips.csv") {
		sum += chipDistance(t, row[0], Lab{figures.Number(t, row[1]), figures.Number(t, row[2]), figures.Number(t, row[3])})
		n++
	}
	check("committed chips", sum, n)

	path, ok := readings(t, "munsell_matte_1269_5nm.csv")
	if !ok {
		return
	}
	sum, n = 0, 0
	for _, row := range figures.Rows(t, path) {
		var s Spectrum
		for b := range s {
			s[b] = figures.Number(t, row[1+2*b])
		}
		sum += chipDistance(t, row[0], D65().Lab(&s))
		n++
	}
	check("all chips", sum, n)
}

func chipDistance(t *testing.T, notation string, c Lab) float64 {
	t.Helper()
	m, err := ParseMunsell(notation)
	if err != nil {
		t.Fatal(err)
	}
	want, _ := m.Lab()
	return DE2000(c, want)
}

func TestMunsellString(t *testing.T) {
	for want, m := range map[string]Munsell{
		"5.0GY 5.00/6.0":   {35, 5, 6},
		"10.0R 4.25/2.0":   {10, 4.25, 2},
		"10.0RP 4.00/12.0": {0, 4, 12},
		"0.1R 4.00/1.0":    {0.1, 4, 1},
		"10.0RP 4.00/1.0":  {99.96, 4, 1},
		"N 3.70/":          {50, 3.7, 0.04},
	} {
		if got := m.String(); got != want {
			t.Errorf("%+v: %q, want %q", m, got, want)
		}
	}
}

// Whatever is read is written out and read again as the same, and a colour comes of it.
func FuzzParseMunsell(f *testing.F) {
	for _, s := range []string{"5GY 5/6", "10RP4/12", "0R 1/0", "n 5/", "N5", "N 5/0.0", "2.5yr .5/.25", "5GY 5/1e9", "5 GY 5 / 6", "R 5/5", "5GY 10/60"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		var m Munsell
		var err error
		bounded.Work(t, len(s), func() { m, err = ParseMunsell(s) })
		if err != nil {
			bounded.Refusal(t, err, "notation ", "; ")
			return
		}
		if !(m.Hue >= 0 && m.Hue < 100 && m.Value >= 0 && m.Value <= 10 && m.Chroma >= 0 && m.Chroma <= 60) {
			t.Fatalf("%q is %+v", s, m)
		}
		again, err := ParseMunsell(m.String())
		if err != nil || math.Abs(again.Value-m.Value) > 0.00501 || math.Abs(again.Chroma-m.Chroma) > 0.0501 {
			t.Fatalf("%q is %v, read again %v, %v", s, m, again, err)
		}
		if c, _ := m.Lab(); !c.Finite() {
			t.Fatalf("%q is the colour %v", s, c)
		}
	})
}
