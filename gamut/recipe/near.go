package recipe

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/internal/kernel"
)

// goal is a target that recipes are sought for, and what lies beyond its limit
// told cheaply.
type goal struct {
	lab    colour.Lab
	limit  float64    // CIEDE2000
	stray  float64    // CIEDE2000 beyond which touches may not lead when they are overdone
	reach  [2]float64 // what L*, and a* and b* together, may be off where the other is right
	target int        // its place among the targets
}

// mayStray is what half a touch or twice one may cost beyond the tolerance: whoever
// takes a touch takes about that.
const mayStray = 1.0

func newGoal(target int, t *Target) goal {
	g := goal{target: target, lab: t.Lab, stray: t.Tolerance + mayStray}
	g.within(t.Tolerance)
	return g
}

// within sets the limit, and the spheroid outside which CIEDE2000 is above it (Sharma,
// Wu, Dalal 2005). L: S_L is at most 1 + 0.015 |L - 50|, L the mean (eq. 15). a, b: the rotation term takes
// away at most sin 60 of the two other squares, which leaves 0.134 (eqs. 20-22);
// S_H is below S_C = 1 + 0.045 C', the mean chroma; and C' is at most half as much
// again as C*, as a' is of a (eqs. 4, 5).
func (g *goal) within(limit float64) {
	g.limit = limit
	const apart = 2.74 // 1 / sqrt(0.134)
	// With d the distance in a', b: d <= apart limit (1 + 0.045 (1.5 C* + d/2)).
	c := math.Sqrt(float64(g.lab.A*g.lab.A) + float64(g.lab.B*g.lab.B))
	far := math.Inf(1)
	if slack := 1 - float64(apart*limit*0.045/2); slack > 0 {
		far = apart * limit * (1 + float64(0.045*1.5*c)) / slack
	}
	// With d the distance in L: d <= limit (1 + 0.015 (|L* - 50| + d/2)).
	light := math.Inf(1)
	if slack := 1 - float64(0.015*limit/2); slack > 0 {
		light = limit * (1 + float64(0.015*math.Abs(g.lab.L-50))) / slack
	}
	g.reach = [2]float64{light, far}
}

// beyond is 1 but for rounding: the squares of how far L*, and a* and b*, are off in
// parts of what they may, summed, where CIEDE2000 is at its limit.
const beyond = 1 + 1e-9

// inSight reports whether a colour of which there is a sketch may lie within the limit.
func (g *goal) inSight(sketch [3]float32) bool {
	const slack = 2 * kernel.SketchError
	l := math.Abs(float64(sketch[0])-g.lab.L) - slack
	a := math.Abs(float64(sketch[1])-g.lab.A) - slack
	b := math.Abs(float64(sketch[2])-g.lab.B) - slack
	return l <= g.reach[0] && a <= g.reach[1] && b <= g.reach[1]
}

// anyInSight reports that of some goals, by their places.
func anyInSight(goals []goal, places []int, sketch [3]float32) bool {
	for _, at := range places {
		if goals[at].inSight(sketch) {
			return true
		}
	}
	return false
}

// difference is the CIEDE2000 of a mix; ok is false where it is above the limit.
func (g *goal) difference(mix colour.Lab) (de float64, ok bool) {
	l, a, b := (mix.L-g.lab.L)/g.reach[0], (mix.A-g.lab.A)/g.reach[1], (mix.B-g.lab.B)/g.reach[1]
	if float64(l*l)+float64(a*a)+float64(b*b) > beyond {
		return 0, false
	}
	de = colour.DE2000(mix, g.lab)
	return de, de <= g.limit
}
