package colour

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fewtubes/gamut/bounded"
)

func TestParse(t *testing.T) {
	grey := Lab{53.585013, 0, 0} // #808080, npm culori 4.0.2
	for text, want := range map[string]Lab{
		"#808080":                     grey,
		"  #808080\n":                 grey,
		"rgb(128 128 128)":            grey,
		"RGB( 128,128 , 128 )":        grey,
		"#abc":                        must(Parse("#aabbcc")),
		"#FFF":                        {100, 0, 0},
		"rgb(100% 100% 100%)":         {100, 0, 0},
		"rgb(0% 0 0)":                 {0, 0, 0},
		"lab(50 10 -20)":              {50, 10, -20},
		"lab(50% 10 -20)":             {50, 10, -20},
		"lab(50, 10, \u221220)":       {50, 10, -20},
		"lab(.5e2 +1e1 -20.)":         {50, 10, -20},
		"lab(50\u00a010\u00a0-20)":    {50, 10, -20},
		"lch(50 30 90)":               {50, 0, 30},
		"lch(50% 30 90deg)":           {50, 0, 30},
		"lch(50 30 450)":              {50, 0, 30},
		"lch(50 30 -270deg)":          {50, 0, 30},
		"lch(50 30 36000000000090)":   {50, 0, 30},
		"lch(50 0 7)":                 {50, 0, 0},
		"lab(0 0 0)":                  {0, 0, 0},
		"lab(100 0 0)":                {100, 0, 0},
		"lab\t(50 10\t-20)":           {50, 10, -20},
		"lch(50 30 1e300)":            LCh{50, 30, math.Mod(1e300, 360)}.Lab(),
		"lab(50 1e-400 0)":            {50, 0, 0},
		"lab(50 10 -20.000000000000)": {50, 10, -20},
		"5GY 5/6":                     inData(Munsell{35, 5, 6}),
		"munsell(5gy 5/6)":            inData(Munsell{35, 5, 6}),
		" 2.5yr4.5 / 3 ":              inData(Munsell{12.5, 4.5, 3}),
		"N 5/":                        inData(Munsell{0, 5, 0}),
		"munsell(N 9.5)":              inData(Munsell{0, 9.5, 0}),
	} {
		got, err := Parse(text)
		if err != nil || !near(got, want, 1e-6) {
			t.Errorf("%q: %v, %v, want %v", text, got, err, want)
		}
	}
}

func inData(m Munsell) Lab {
	c, inside := m.Lab()
	if !inside {
		panic(m.String())
	}
	return c
}

func must(c Lab, err error) Lab {
	if err != nil {
		panic(err)
	}
	return c
}

// Each mistake gets one line that says what to write instead.
func TestParseMistakes(t *testing.T) {
	for text, hint := range map[string]string{
		"":                    "write #rrggbb",
		"#":                   "six hexadecimal digits",
		"#12":                 "six hexadecimal digits",
		"#1234567":            "six hexadecimal digits",
		"#é1":                 "six hexadecimal digits",
		"#+12345":             "six hexadecimal digits",
		"#1_2345":             "six hexadecimal digits",
		"blue":                "write #rrggbb",
		"lab 50 10 10":        "write #rrggbb",
		"lab(50 10 10":        "write #rrggbb",
		"lab((50 10 10))":     "write #rrggbb",
		"hsl(50 10 10)":       `"hsl" is not a notation known here`,
		"lab(50 10)":          "three numbers are wanted, 2 found",
		"lab(50,5 10 10)":     "three numbers are wanted, 4 found",
		"lab()":               "three numbers are wanted, 0 found",
		"lab(fifty 10 10)":    `"fifty" is not a number`,
		"lab(NaN 10 10)":      `"nan" is not a number`,
		"lab(50 inf 10)":      `"inf" is not a number`,
		"lab(50 1e999 0)":     `"1e999" is not a number`,
		"lab(0x32 10 10)":     `"0x32" is not a number`,
		"lab(5_0 10 10)":      `"5_0" is not a number`,
		"lab(50 10% 10)":      `"10%" is not a number that can stand there`,
		"lch(50deg 10 10)":    `"50deg" is not a number that can stand there`,
		"lab(% 10 10)":        `"%" is not a number`,
		"lab(101 0 0)":        "L runs from 0 to 100",
		"lab(-1 0 0)":         "L runs from 0 to 100",
		"lab(50 200 200)":     "chroma over 200",
		"lch(50 201 0)":       "chroma over 200",
		"lch(50 -1 0)":        "chroma cannot be negative",
		"rgb(256 0 0)":        "rgb channels run",
		"rgb(0 -1 0)":         "rgb channels run",
		"rgb(0 0 101%)":       "rgb channels run",
		"5GY 5/30":            "ends at chroma 12.0",
		"5GY 9.5/2":           "values 1 to 9",
		"11GY 5/2":            "from 0 to 10",
		"5GY 11/2":            "value runs from 0 to 10",
		"5XY 5/2":             "as in 5GY 5/6",
		"5GY 5/99":            "chroma over 60",
		"munsell(5GY)":        "as in 5GY 5/6",
		"N 12/":               "value runs from 0 to 10",
		"1/2":                 "as in 5GY 5/6",
		"lab(\u0665 1 1)":     "is not a number",
		"lab(50 \u2212-1 10)": "is not a number",
	} {
		_, err := Parse(text)
		if err == nil || !strings.Contains(err.Error(), hint) || strings.Contains(err.Error(), "\n") {
			t.Errorf("%q: %v, want one line with %q", text, err, hint)
		}
	}
	_, err := Parse("lab(" + strings.Repeat("é", 100000))
	if err == nil || len(err.Error()) > 300 {
		t.Errorf("a long line is quoted back at length %d", len(err.Error()))
	}
}

// Whatever is accepted is a plausible surface colour, stays itself when written
// out and read again, and whatever is refused is refused in one short line.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"#7a8c5a", "#FFF", "#", "rgb(1 2 3)", "rgb(10% 20% 30%)", "lab(50% 10 -20)", "lch(50, 30, 120deg)", "lch(50 30 -1e308)",
		"lab(1e-320 0 0)", "lab(NaN 0 0)", "LAB(50 \u22121 0)", "\u212aab(1 1 1)", "5GY 5/6", "munsell(N 3/)", "10RP 4.25/7.5", "5GY 5/99", "lab(0x1p4 0 0)", "#\x80\x80\x80", "lab(,,)",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		var c Lab
		var err error
		bounded.Work(t, len(s), func() { c, err = Parse(s) })
		if err != nil {
			bounded.Refusal(t, err, "colour ", "; ")
			return
		}
		if !c.Finite() || c.L < 0 || c.L > 100.0001 || math.Hypot(c.A, c.B) > 200.0001 {
			t.Fatalf("%q is %v", s, c)
		}
		again, err := Parse(fmt.Sprintf("lab(%v %v %v)", math.Min(c.L, 100), c.A, c.B))
		if err != nil || !near(again, c, 1e-4) {
			t.Fatalf("%q is %v, written out and read again %v, %v", s, c, again, err)
		}
	})
}
