package colour

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Words for colours a painter knows. The words are common practice, no source;
// the colours are from memory, rounded.
func TestNameWords(t *testing.T) {
	for _, c := range []struct {
		what string
		lch  LCh
		want string
	}{
		{"a pure red of the tube", LCh{42, 70, 35}, "dark vivid red"},
		{"a pure orange", LCh{65, 95, 62}, "light vivid orange"},
		{"a pure yellow", LCh{84, 100, 88}, "very light vivid yellow"},
		{"meadow grass in sun", LCh{62, 45, 115}, "light clear yellow-green"},
		{"trees in the distance", LCh{48, 9, 145}, "mid greyed green"},
		{"dark wood", LCh{28, 8, 110}, "very dark greyed olive"},
		{"wet mud", LCh{35, 14, 60}, "dark muted brown"},
		{"a dark yellow, towards orange", LCh{40, 21, 81}, "dark muted brown"},
		{"the same a little on", LCh{40, 21, 84}, "dark muted brown"},
		{"the same towards green", LCh{40, 21, 90}, "dark muted olive"},
		{"the same, greyed", LCh{40, 6, 95}, "dark greyed olive"},
		{"the same, as strong as paint", LCh{42, 45, 84}, "dark clear brown"},
		{"the same, pale", LCh{70, 21, 90}, "light muted yellow"},
		{"dry reeds", LCh{62, 32, 80}, "light clear ochre"},
		{"clear sky at noon", LCh{65, 30, 262}, "light clear blue"},
		{"sky near the horizon", LCh{82, 10, 235}, "very light greyed blue"},
		{"evening cloud", LCh{55, 15, 310}, "mid muted violet"},
		{"heather", LCh{50, 20, 340}, "mid muted red-violet"},
		{"overcast", LCh{80, 3, 250}, "very light cool grey"},
		{"dry sand", LCh{75, 3, 75}, "light warm grey"},
		{"lamp black in oil", LCh{24, 0.5, 260}, "near black"},
		{"titanium white", LCh{97, 2, 100}, "warm near white"},
		{"a lit cloud", LCh{93, 0.4, 100}, "near white"},
		{"a grey card", LCh{50, 0, 0}, "mid grey"},
		{"a grey between warm and cool", LCh{50, 3, 150}, "mid grey"},
		{"just short of a full turn", LCh{50, 60, 359.9}, "mid vivid red-violet"},
	} {
		if got := Name(c.lch.Lab()).String(); got != c.want {
			t.Errorf("%s %v: %q, want %q", c.what, c.lch, got, c.want)
		}
	}
}

func TestDirectionWords(t *testing.T) {
	for _, c := range []struct {
		what        string
		mix, target LCh
		want        []Fault
	}{
		{"same", LCh{50, 30, 120}, LCh{50, 30, 120}, nil},
		{"darker", LCh{45, 30, 120}, LCh{50, 30, 120}, []Fault{TooDark}},
		{"lighter", LCh{55, 30, 120}, LCh{50, 30, 120}, []Fault{TooLight}},
		{"duller", LCh{50, 20, 120}, LCh{50, 30, 120}, []Fault{TooDull}},
		{"stronger", LCh{50, 40, 120}, LCh{50, 30, 120}, []Fault{TooStrong}},
		{"green turned to yellow", LCh{50, 30, 110}, LCh{50, 30, 130}, []Fault{TooWarm}},
		{"green turned to blue", LCh{50, 30, 150}, LCh{50, 30, 130}, []Fault{TooCool}},
		{"violet turned to blue", LCh{50, 30, 300}, LCh{50, 30, 320}, []Fault{TooCool}},
		{"red turned to violet through 0", LCh{50, 30, 350}, LCh{50, 30, 10}, []Fault{TooCool}},
		{"orange turned to yellow across the warm pole", LCh{60, 50, 68}, LCh{60, 50, 52}, []Fault{TooYellow}},
		{"orange turned to red across the warm pole", LCh{60, 50, 52}, LCh{60, 50, 68}, []Fault{TooRed}},
		{"blue turned to green across the cool pole", LCh{50, 30, 230}, LCh{50, 30, 250}, []Fault{TooGreen}},
		{"blue turned to violet across the cool pole", LCh{50, 30, 250}, LCh{50, 30, 230}, []Fault{TooViolet}},
		{"grey with a warm cast", LCh{50, 6, 60}, LCh{50, 0, 0}, []Fault{TooWarm}},
		{"grey with a cool cast", LCh{50, 6, 250}, LCh{50, 1, 60}, []Fault{TooCool}},
		{"grey with a green cast", LCh{50, 6, 150}, LCh{50, 0, 0}, []Fault{TooGreen}},
		{"grey with a violet cast", LCh{50, 6, 320}, LCh{50, 0, 0}, []Fault{TooViolet}},
		{"much darker and a trifle dull", LCh{40, 27, 120}, LCh{50, 30, 120}, []Fault{TooDark}}, // 9.8 and 1.3
		{"dark and dull", LCh{40, 20, 120}, LCh{50, 30, 120}, []Fault{TooDark, TooDull}},
	} {
		got := Direction(c.mix.Lab(), c.target.Lab())
		if len(got.Faults) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.what, got, c.want)
			continue
		}
		for i, f := range got.Faults {
			if f.Fault != c.want[i] {
				t.Errorf("%s: %v, want %v", c.what, got, c.want)
			}
		}
	}
}

func drawLab(t *rapid.T, name string) Lab {
	return LCh{
		rapid.Float64Range(0, 100).Draw(t, name+" L"),
		rapid.Float64Range(0, 120).Draw(t, name+" C"),
		rapid.Float64Range(0, 360).Draw(t, name+" h"),
	}.Lab()
}

// Swapping mix and target turns every fault into its opposite, and the signed
// parts account for DE but for the rotation term.
func TestDirectionOpposes(t *testing.T) {
	opposite := map[Fault]Fault{
		TooDark: TooLight, TooDull: TooStrong, TooWarm: TooCool,
		TooRed: TooYellow, TooGreen: TooViolet,
	}
	for a, b := range opposite {
		opposite[b] = a
	}
	rapid.Check(t, func(t *rapid.T) {
		p, q := drawLab(t, "mix"), drawLab(t, "target")
		there, back := Direction(p, q), Direction(q, p)
		if len(there.Faults) != len(back.Faults) {
			t.Fatalf("%v against %v", there, back)
		}
		for i := range there.Faults {
			if back.Faults[i].Fault != opposite[there.Faults[i].Fault] {
				t.Fatalf("%v against %v", there, back)
			}
		}
		_, _, _, rT := terms(q, p)
		sum := there.DL*there.DL + there.DC*there.DC + there.DH*there.DH + rT*there.DC*there.DH
		if math.Abs(math.Sqrt(max(0, sum))-there.DE) > 1e-9*(1+there.DE) {
			t.Fatalf("parts sum to %v, DE %v", math.Sqrt(sum), there.DE)
		}
	})
}

// The ten Munsell hue families at their middle, value 5, are called what their
// names say (ASTM D1535), the wheel of twelve putting violet for purple.
func TestNameMunsellHues(t *testing.T) {
	for notation, want := range map[string]string{
		"5R 5/8": "red", "5YR 6/10": "orange", "5Y 8/10": "yellow", "5GY 5/8": "yellow-green", "5G 5/6": "green",
		"5BG 5/6": "blue-green", "5B 5/6": "blue", "5PB 5/8": "blue", "10PB 4/8": "violet-blue", "5P 5/8": "violet", "5RP 5/8": "red-violet",
		"10R 5/12": "orange-red", "10YR 7/12": "yellow-orange", "10GY 5/8": "green",
	} {
		if got := Name(must(Parse(notation))).Hue; got != Hue(want) {
			t.Errorf("%s: %s (%v), want %s", notation, got, must(Parse(notation)).LCh(), want)
		}
	}
}

// The Munsell hues beside the bounds of the hue words, at value 5, chroma 6.
func TestHueBounds(t *testing.T) {
	for word, munsell := range map[string]float64{
		"red": 99, "orange-red": 9.5, "orange": 13.5, "yellow-orange": 17.5, "yellow": 22, "yellow-green": 30,
		"green": 37.5, "blue-green": 50, "blue": 63, "violet-blue": 76.5, "violet": 81, "red-violet": 88.5,
	} {
		for side, hue := range map[string]float64{"before": munsell - 1, "after": munsell + 1} {
			c, _ := Munsell{hue, 5, 6}.Lab()
			if got := Name(c).Hue; (got == Hue(word)) != (side == "after") {
				t.Errorf("just %s %s (hue %v): %s", side, word, hue, got)
			}
		}
	}
}

// Round the wheel below value 5 a yellow is brown, then olive, each in one stretch,
// and nowhere yellow.
func TestDarkYellowsAreEarths(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := LCh{rapid.Float64Range(5, 49.9).Draw(t, "L"), rapid.Float64Range(4, 60).Draw(t, "C"), 0}
		var met []Plain
		for at.H = 68; at.H < 103; at.H++ {
			name := Name(at.Lab())
			if name.Chroma == Grey { // by a rounding
				return
			}
			if len(met) == 0 || met[len(met)-1] != name.Plain {
				met = append(met, name.Plain)
			}
		}
		for i, p := range met {
			if p == "" || i > 0 && p != Olive {
				t.Fatalf("%v: %q", at, met)
			}
		}
	})
}

// Oranges are warm, blues cool, what lies between and near greys neither (the poles
// of warm and cool are common practice, no source).
func TestLean(t *testing.T) {
	for _, c := range []struct {
		lch  LCh
		want Hue
	}{{LCh{50, 30, 60}, Warm}, {LCh{50, 30, 240}, Cool}, {LCh{50, 30, 150}, ""}, {LCh{50, 1, 60}, ""}, {LCh{50, 2, 240}, Cool}} {
		if got := Lean(c.lch.Lab()); got != c.want {
			t.Errorf("%v: %q, want %q", c.lch, got, c.want)
		}
	}
}
