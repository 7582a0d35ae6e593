package values

import (
	"fmt"
	"image"
	"slices"
)

// Study is a reference laid out for a study in greys: its values, moved into
// what paint shows, on the few levels the study is painted in.
type Study struct {
	Reference Grey
	Flat      Grey
	Plan      Plan
	Shares    []float64 // of the picture, by level
}

// StudySteps are the even steps of a study that is not asked for in fewer
// values: as many as a painter keeps apart (common practice, no source).
const StudySteps = 8

// NewStudy lays a picture out, slightly blurred, in so many flat values chosen to
// fit it (see NewPlan), or, for 0, in StudySteps even ones.
func NewStudy(g Grey, levels int) Study {
	shown, dark, light := g.squinted()
	s := Study{Reference: g, Plan: evenPlan(dark, light, StudySteps)}
	if levels > 0 {
		s.Plan = NewPlan(shown, levels)
	}
	s.Flat, s.Shares = s.Plan.Flatten(shown), s.Plan.Shares(shown)
	return s
}

// Squinted is a picture slightly blurred, its values moved into what paint shows.
func (g Grey) Squinted() Grey {
	shown, _, _ := g.squinted()
	return shown
}

func (g Grey) squinted() (shown Grey, dark, light float64) {
	dark, light = Extremes(g.L)
	shown = g.Blur(squint(g.W))
	if curve := ToPaint(dark, light); curve != nil {
		dark, light = curve.At(dark), curve.At(light)
		shown.L = slices.Clone(shown.L)
		for i, l := range shown.L {
			shown.L[i] = curve.At(l)
		}
	}
	return shown, dark, light
}

// evenPlan has n levels from dark to light, L*, at least a tenth apart.
func evenPlan(dark, light float64, n int) (p Plan) {
	step := max((light-dark)/float64(n-1), 0.1)
	for k := range n {
		p.Levels = append(p.Levels, dark+float64(float64(k)*step))
		if k > 0 {
			p.Bounds = append(p.Bounds, dark+float64((float64(k)-0.5)*step))
		}
	}
	return p
}

// Board is the study as a picture: the reference in greys, in the values of the
// study, and their ladder with what each takes up.
func (s *Study) Board() image.Image {
	w, h := s.Reference.W, s.Reference.H
	return board(w, h, [][]field{{
		{"reference, values", s.Reference.Image()},
		{fmt.Sprintf("the study in %d values that paint can show", len(s.Plan.Levels)), s.Flat.Image()},
		{"value 0..10, part of the picture", s.Plan.ladder(w, h, s.Shares)},
	}})
}
