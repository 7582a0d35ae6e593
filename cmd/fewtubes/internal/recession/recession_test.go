package recession

import (
	"fmt"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/air"
	"fewtubes/gamut/colour"

	"pgregory.net/rapid"
)

func law(t interface{ Fatal(...any) }, s *scene.Scene) *Law {
	l, err := NewLaw(s)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func drawScene(t *rapid.T) scene.Scene {
	s := scene.Scene{
		Light: "D65", Tolerance: 3,
		Air: &scene.Air{
			Range: rapid.SampledFrom([]string{"clear", "hazy", "misty", "60 km"}).Draw(t, "range"), Airlight: "lab(78 -2 -6)",
			Hue: rapid.SampledFrom([]air.Hue{"", air.Perceived}).Draw(t, "hue"),
		},
	}
	for i := range rapid.IntRange(1, 6).Draw(t, "n") {
		c := colour.LCh{L: rapid.Float64Range(5, 98).Draw(t, "L"), C: rapid.Float64Range(0, 60).Draw(t, "C"), H: rapid.Float64Range(0, 360).Draw(t, "H")}
		s.Targets = append(s.Targets, scene.Target{
			Name: fmt.Sprint(i), Lab: c.Lab(), Area: 1,
			Plane: rapid.SampledFrom([]string{"foreground", "middle", "distance", "sky", ""}).Draw(t, "plane"),
			Seen:  rapid.SampledFrom([]string{"", "0 km", "1 km", "6 km"}).Draw(t, "seen"),
		})
	}
	return s
}

// The adjusted copy passes the check, moves what the check named and nothing
// else; a second one moves nothing.
func TestAdjusted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		l := law(t, &s)
		named := map[string]bool{}
		for _, v := range l.Judge(&s) {
			named[v.Target.Name] = true
			if v.Target.Plane == "sky" || v.Target.Plane == "" || v.DE <= Slack {
				t.Fatalf("%+v", v)
			}
			if !v.Moves() && v.Farthest > v.PlaneKM {
				t.Fatalf("%s stands before %v km, yet may lie %v off", v.Target.Name, v.PlaneKM, v.Farthest)
			}
		}
		after, moved := l.Adjusted(s)
		for i, target := range after.Targets {
			if !named[target.Name] && target != s.Targets[i] {
				t.Fatalf("%s was moved, and nothing was said of it", target.Name)
			}
			if !target.Lab.Finite() || target.Lab.L < 0 || target.Lab.L > 100 {
				t.Fatalf("%v", target.Lab)
			}
		}
		if len(moved) != len(named) {
			t.Fatalf("%d moved, %d named", len(moved), len(named))
		}
		if left := l.Judge(&after); len(left) > 0 {
			t.Fatalf("%s remains: %v, the law has %v", left[0].Target.Name, left[0].Target.Lab, left[0].Law)
		}
	})
}

// Putting back twice moves nothing the second time.
func TestPutBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawScene(t)
		l := law(t, &s)
		once, _ := l.PutBack(s)
		if _, moved := l.PutBack(once); len(moved) > 0 {
			t.Fatalf("%+v", moved)
		}
	})
}

// A colour picked from a photograph was seen where it was picked: in the middle
// of one, which is 2 km off there, while the painting has it 6 km off.
func TestWay(t *testing.T) {
	s, err := scene.Parse("s.toml", []byte(`format = 1
[air]
range = "20 km"
[[photo]]
name = "hill"
file = "hill.jpg"
planes = ["sky=0:0.3", "middle=0,0.3 1,0.3 1,0.6 0,0.6"]
distances = {middle = "2 km"}
[[target]]
name = "wood"
colour = "lab(40 -10 12)"
plane = "distance"
at = {photo = "hill", x = 0.5, y = 0.5}
[[target]]
name = "reed"
colour = "lab(60 2 30)"
plane = "middle"
[[target]]
name = "low sky"
colour = "lab(80 -2 -4)"
plane = "sky"
`))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][2]float64{{2, 6}, {0, 1}} {
		if from, to, ok := s.WayKM(&s.Targets[i]); !ok || from != want[0] || to != want[1] {
			t.Errorf("%s: %v to %v, want %v", s.Targets[i].Name, from, to, want)
		}
	}
	if _, _, ok := s.WayKM(&s.Targets[2]); ok {
		t.Error("the sky has a way to go")
	}
	l := law(t, &s)
	if l.From != "low sky" {
		t.Errorf("the airlight is from %q", l.From)
	}
	after, moved := l.PutBack(s)
	if len(moved) != 2 || after.Targets[0].Seen != "6 km" || after.Targets[0].Lab.L < 60 {
		t.Errorf("%+v", after.Targets)
	}
}

func ExampleLaw_Judge() {
	s := scene.Scene{
		Light: "D65", Air: &scene.Air{Range: "20 km", Airlight: "lab(78 -2 -6)"},
		Targets: []scene.Target{
			{Name: "reeds", Plane: "foreground", Lab: colour.Lab{L: 62, A: 4, B: 34}},
			{Name: "far trees", Plane: "distance", Lab: colour.Lab{L: 29, A: -4, B: 3}, Seen: "6 km"},
		},
	}
	l, err := NewLaw(&s)
	if err != nil {
		panic(err)
	}
	for _, v := range l.Judge(&s) {
		fmt.Printf("%s: at most %.1f km off; the law has value %.1f at %g km\n", v.Target.Name, v.Farthest, v.Law.L/10, v.PlaneKM)
	}
	// Output:
	// far trees: at most 0.4 km off; the law has value 6.7 at 6 km
}
