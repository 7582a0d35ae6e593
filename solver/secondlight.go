package solver

import (
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// Drift is how the mix for a target changes from the problem's light to a
// second one, each seen against its own white.
type Drift struct {
	Target string
	From   colour.Lab // under the problem's light
	To     colour.Lab // under the second
	Miss   colour.Miss
}

// Drifts follows a palette's mixes under a second light, in the order of
// targets, and names the two whose shifts in CIELAB are most unlike: colours
// whose relation changes most. apart is 0, 0 when there are fewer than two.
func (s *Session) Drifts(p *Palette, second *colour.Light) (drifts []Drift, apart [2]int) {
	other := s.problem
	other.Light = second
	for i := range p.Targets {
		o := &p.Targets[i]
		if len(o.Shares) == 0 {
			continue
		}
		d := Drift{Target: o.Target, From: o.Mix, To: seen(&other, s.tube, o.Shares)}
		d.Miss = colour.Direction(d.To, d.From)
		drifts = append(drifts, d)
	}
	most := -1.0
	for i := range drifts {
		for j := range i {
			if gap := unlike(&drifts[j], &drifts[i]); portable.Compare(gap, most, portable.Fine) > 0 {
				most, apart = gap, [2]int{j, i}
			}
		}
	}
	return drifts, apart
}

// unlike is the CIELAB distance between two shifts.
func unlike(a, b *Drift) float64 {
	l := a.To.L - a.From.L - b.To.L + b.From.L
	x := a.To.A - a.From.A - b.To.A + b.From.A
	y := a.To.B - a.From.B - b.To.B + b.From.B
	return math.Sqrt(float64(l*l) + float64(x*x) + float64(y*y))
}
