package recession

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut/colour"

	"pgregory.net/rapid"
)

func targets(lines ...string) (out []scene.Target) {
	for _, l := range lines {
		var t scene.Target
		if _, err := fmt.Sscan(l, &t.Name, &t.Plane, &t.Lab.L, &t.Lab.A, &t.Lab.B, &t.Area); err != nil {
			panic(err)
		}
		out = append(out, t)
	}
	return out
}

var receding = []string{
	"grass foreground 60 -15 45 5", "root foreground 27 2 8 5",
	"flats middle 64 -4 24 5", "hedge middle 40 -8 12 5",
	"shore distance 68 0 2 5", "wood distance 55 -2 -4 5",
	"light sky 93 2 8 5", "blue sky 75 -4 -18 5",
}

// Each rule, broken by one colour in a scene that keeps them all.
func TestCheck(t *testing.T) {
	if w := Check(targets(receding...)); len(w) > 0 {
		t.Errorf("a receding scene: %+v", w)
	}
	for _, c := range []struct {
		rule  Rule
		plane string
		line  string
		words string
	}{
		{ChromaFalls, "distance", "field distance 70 -20 -50 20", "the distance has more chroma"},
		{DarksLighten, "distance", "wood2 distance 30 -2 -4 1", "wood2 in the distance (value 3.0) is darker than any dark of the middle plane (4.0)"},
		{HuesCool, "distance", "sand distance 76 8 20 60", "the distance is warmer on the whole"},
		{DarkestInFront, "middle", "hole middle 20 0 0 1", "the strongest dark is hole in the middle plane (value 2.0), not in the foreground (2.7)"},
		{ContrastInFront, "middle", "gleam middle 90 0 0 1", "the middle plane has the wider contrast (5.0 of value) than the foreground (3.3)"},
	} {
		found := false
		for _, w := range Check(targets(append([]string{c.line}, receding...)...)) {
			if w.Rule == c.rule && w.Plane == c.plane {
				found = strings.Contains(w.Words, c.words)
			}
		}
		if !found {
			t.Errorf("%s: %+v", c.rule, Check(targets(append([]string{c.line}, receding...)...)))
		}
	}
	low := targets("grass foreground 60 -15 45 5", "root foreground 27 2 8 5", "field middle 45 -4 20 5", "light sky 95 0 0 5")
	if w := Check(low); len(w) != 1 || w[0].Rule != GroundStaysLight || w[0].Plane != "middle" {
		t.Errorf("low ground: %+v", w)
	}
}

func TestCheckWithoutPlanes(t *testing.T) {
	all := targets(receding...)
	for i := range all {
		all[i].Plane = ""
	}
	if w := Check(all); len(w) > 0 {
		t.Errorf("%+v", w)
	}
	if w := Check(nil); len(w) > 0 {
		t.Errorf("%+v", w)
	}
}

// An adjusted scene breaks no rule but that of low ground, leaves foreground and
// sky alone, and a scene that recedes is left alone altogether.
func TestAdjusted(t *testing.T) {
	if _, moved := Adjusted(scene.Scene{Targets: targets(receding...)}); len(moved) > 0 {
		t.Errorf("moved %+v", moved)
	}
	rapid.Check(t, func(t *rapid.T) {
		var s scene.Scene
		for i := range rapid.IntRange(1, 12).Draw(t, "n") {
			c := colour.LCh{L: rapid.Float64Range(5, 98).Draw(t, "L"), C: rapid.Float64Range(0, 60).Draw(t, "C"), H: rapid.Float64Range(0, 360).Draw(t, "H")}
			s.Targets = append(s.Targets, scene.Target{
				Name: fmt.Sprint(i), Lab: c.Lab(), Area: rapid.Float64Range(0, 10).Draw(t, "area"),
				Plane: rapid.SampledFrom([]string{"foreground", "middle", "distance", "sky", ""}).Draw(t, "plane"),
			})
		}
		after, _ := Adjusted(s)
		for i, target := range after.Targets {
			fixed := target.Plane == "foreground" || target.Plane == "sky" || target.Plane == ""
			if fixed && target != s.Targets[i] {
				t.Fatalf("%s was moved", target.Plane)
			}
			if !target.Lab.Finite() || target.Lab.L < 0 || target.Lab.L > 100 || math.Hypot(target.Lab.A, target.Lab.B) > 61 {
				t.Fatalf("%v", target.Lab)
			}
		}
		for _, w := range Check(after.Targets) {
			if w.Rule == GroundStaysLight || w.Rule == HuesCool && coolerThanGrey(after.Targets, w.Plane) {
				continue
			}
			t.Fatalf("%+v remains of %+v", w, after.Targets)
		}
	})
}

// Colours are written to a tenth, which must not break a rule that was just kept:
// the wood is 1.95 warmer than the reeds, and by 2.02 once its colour is rounded.
func TestRoundingBreaksNoRule(t *testing.T) {
	s := scene.Scene{Targets: targets("reeds foreground 40 -1.7 1 1", "wood distance 30 0.55 1.95 1")}
	after, moved := Adjusted(s)
	if len(moved) != 1 {
		t.Fatalf("moved %+v", moved)
	}
	if w := Check(after.Targets); len(w) > 0 {
		t.Errorf("%+v remains of %+v", w, after.Targets)
	}
}

// coolerThanGrey reports whether the warm colours of a plane are gone, so that
// greying cannot cool it further.
func coolerThanGrey(all []scene.Target, plane string) bool {
	for _, p := range planes(all) {
		if p.name == plane {
			return p.warmth <= 0.2
		}
	}
	return false
}

func ExampleCheck() {
	for _, w := range Check([]scene.Target{
		{Name: "reeds", Plane: "foreground", Lab: colour.Lab{L: 62, A: 4, B: 34}, Area: 4},
		{Name: "mud", Plane: "foreground", Lab: colour.Lab{L: 34, A: 3, B: 8}, Area: 2},
		{Name: "far trees", Plane: "distance", Lab: colour.Lab{L: 29, A: -4, B: 3}, Area: 1},
		{Name: "far field", Plane: "distance", Lab: colour.Lab{L: 70, A: -2, B: 10}, Area: 2},
	}) {
		fmt.Println(w.Words)
	}
	// Output:
	// far trees in the distance (value 2.9) is darker than any dark of the foreground (3.4): lighten it.
	// the strongest dark is far trees in the distance (value 2.9), not in the foreground (3.4).
	// the distance has the wider contrast (4.1 of value) than the foreground (2.8).
}
