package recipe

import (
	"testing"

	"fewtubes/gamut/colour"

	"pgregory.net/rapid"
)

// The spheroid of a goal holds every colour within its limit, wherever the goal and
// however large the limit.
func TestSpheroidHoldsTheGoal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		goal := colour.Lab{L: number("L", -100, 200), A: number("a", -90, 90), B: number("b", -110, 110)}
		mix := goal
		scale := number("scale", 0, 1)
		mix.L += scale * number("dL", -60, 60)
		mix.A += scale * number("da", -120, 120)
		mix.B += scale * number("db", -120, 120)
		de := colour.DE2000(mix, goal)
		g := newGoal(0, &Target{Lab: goal, Tolerance: de * number("slack", 1.000001, 1.5)})
		if got, ok := g.difference(mix); de > 0 && (!ok || got != de) {
			t.Errorf("%v to %v is %v, within %v: %v", mix, goal, de, g.limit, ok)
		}
	})
}

// All round goals of every hue and chroma, among the blues too, where the rotation
// term makes the ball long in one direction.
func TestSpheroidHoldsEveryDirection(t *testing.T) {
	for _, chroma := range []float64{0, 5, 20, 50, 90} {
		for hue := 0.0; hue < 360; hue += 10 {
			goal := colour.LCh{L: 40, C: chroma, H: hue}.Lab()
			for towards := 0.0; towards < 360; towards += 15 {
				for _, far := range []float64{0.5, 2, 8, 25} {
					step := colour.LCh{C: far, H: towards}.Lab()
					mix := colour.Lab{L: goal.L, A: goal.A + step.A, B: goal.B + step.B}
					g := newGoal(0, &Target{Lab: goal, Tolerance: 1.000001 * colour.DE2000(mix, goal)})
					if _, ok := g.difference(mix); !ok {
						t.Fatalf("%v is outside the spheroid of %v within %v", mix, goal, g.limit)
					}
				}
			}
		}
	}
}
