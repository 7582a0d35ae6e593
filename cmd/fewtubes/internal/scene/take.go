package scene

import (
	"cmp"
	"fmt"
	"strings"

	"fewtubes/gamut/colour"
)

// complete fills in what the file left out and what its colours say; what a Scene
// can hold and yet be wrong is left to Check.
func (s *Scene) complete() error {
	if !s.at.has("tolerance") {
		s.Tolerance = DefaultTolerance
	}
	s.Light = cmp.Or(strings.ToUpper(s.Light), colour.D65().Name)
	if n := s.Limits.MaxTubes; n < 1 && s.at.has("limits.max-tubes") {
		return s.wrong("limits.max-tubes", fmt.Sprintf("%d tubes are no palette", n), "write 1 or more, or leave it out for no limit")
	}
	if n := s.Limits.PaintsPerMix; n < 1 && s.at.has("limits.paints-per-mix") {
		return s.wrong("limits.paints-per-mix", fmt.Sprintf("%d paints are no mix", n), "write 1 or more, or leave it out")
	}
	for i := range s.Photos {
		for _, side := range []string{"from", "to"} {
			if path := fmt.Sprintf("photo[%d].values", i); s.Photos[i].Values != nil && !s.at.three(path+"."+side) {
				return s.wrong(path, "a curve has three points", "write values = {from = [4, 50, 98], to = [23, 50, 97]}")
			}
		}
	}
	for i := range s.Targets {
		if err := s.completeTarget(i); err != nil {
			return err
		}
	}
	s.completeAreas(func(i int) bool { return s.at.has(fmt.Sprintf("target[%d].area", i)) })
	return nil
}

func (s *Scene) completeTarget(i int) error {
	t, path := &s.Targets[i], fmt.Sprintf("target[%d]", i)
	t.Name = strings.TrimSpace(t.Name)
	if t.Colour == "" {
		return s.wrong(path+".colour", "the colour is missing", `write colour = "#7a8c5a", or lab(L a b), lch(L C h), rgb(R G B)`)
	}
	if err := s.readColour(i); err != nil {
		return err
	}
	if t.Tolerance == 0 && s.at.has(path+".tolerance") {
		return s.wrong(path+".tolerance", "no mix is exact", "write a CIEDE2000 over 0, or leave it out for the scene's")
	}
	if t.At == nil {
		return nil
	}
	if !s.at.has(path+".at.x") || !s.at.has(path+".at.y") {
		return s.wrong(path+".at", "x and y are both needed", `write at = {photo = "wide", x = 0.4, y = 0.8, radius = 0.02}`)
	}
	if !s.at.has(path + ".at.radius") {
		t.At.Radius = defaultRadius
	}
	return nil
}

// defaultRadius is wide enough to average over the grain of a photograph.
const defaultRadius = 0.01

// ReadColours makes the colours of the targets what they are written as.
func (s *Scene) ReadColours() error {
	for i := range s.Targets {
		if err := s.readColour(i); err != nil {
			return err
		}
	}
	return nil
}

func (s *Scene) readColour(i int) (err error) {
	t := &s.Targets[i]
	if t.Lab, err = colour.Parse(t.Colour); err != nil {
		return s.wrong(fmt.Sprintf("target[%d].colour", i), err.Error(), "") // it ends with how to mend it
	}
	return nil
}
