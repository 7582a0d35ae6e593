package scene

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
)

// take fills the scene from the document, with the defaults for what it leaves
// out; what a Scene can hold and yet be wrong is left to Check.
func (s *Scene) take(d *document) error {
	s.Title = d.Title
	s.Tolerance = or(d.Tolerance, DefaultTolerance)
	s.Light = cmp.Or(strings.ToUpper(d.Light), colour.D65().Name)
	s.Surface = d.Surface
	if err := s.takeLimits(&d.Limits); err != nil {
		return err
	}
	for i := range d.Photo {
		if err := s.takePhoto(i, &d.Photo[i]); err != nil {
			return err
		}
	}
	for i := range d.Target {
		if err := s.takeTarget(i, &d.Target[i]); err != nil {
			return err
		}
	}
	return nil
}

func (s *Scene) takeLimits(d *docLimits) error {
	if d.MaxTubes != nil && *d.MaxTubes < 1 {
		return s.wrong("limits.max-tubes", fmt.Sprintf("%d tubes are no palette", *d.MaxTubes), "write 1 or more, or leave it out for no limit")
	}
	if d.PaintsPerMix != nil && *d.PaintsPerMix < 1 {
		return s.wrong("limits.paints-per-mix", fmt.Sprintf("%d paints are no mix", *d.PaintsPerMix), "write 1 or more, or leave it out")
	}
	s.Limits = Limits{
		MaxTubes: or(d.MaxTubes, 0), Budget: d.Budget, PaintsPerMix: or(d.PaintsPerMix, 0), Prefer: d.Prefer,
		Avoid: d.Avoid, Keep: d.Keep, Never: d.Never, Only: d.Only, Own: d.Own, AtMostOne: d.AtMostOne,
	}
	return nil
}

func (s *Scene) takePhoto(i int, d *docPhoto) error {
	p := Photo{Name: d.Name, File: d.File, Targets: d.Targets}
	for _, text := range d.Planes {
		band, err := ParsePlaneBand(text)
		if err != nil {
			return s.wrong(fmt.Sprintf("photo[%d].planes", i), err.Error(), `write them as in "distance=0:0.35"`)
		}
		p.Planes = append(p.Planes, band)
	}
	if d.Values != nil {
		if len(d.Values.From) != 3 || len(d.Values.To) != 3 {
			return s.wrong(fmt.Sprintf("photo[%d].values", i), "a curve has three points", "write values = {from = [4, 50, 98], to = [23, 50, 97]}")
		}
		p.Values = &values.Curve{From: [3]float64(d.Values.From), To: [3]float64(d.Values.To)}
	}
	s.Photos = append(s.Photos, p)
	return nil
}

func (s *Scene) takeTarget(i int, d *docTarget) error {
	path := fmt.Sprintf("target[%d]", i)
	if d.Colour == "" {
		return s.wrong(path+".colour", "the colour is missing", `write colour = "#7a8c5a", or lab(L a b), lch(L C h), rgb(R G B)`)
	}
	lab, err := colour.Parse(d.Colour)
	if err != nil {
		return s.wrong(path+".colour", err.Error(), "") // it ends with how to mend it
	}
	if d.Tolerance != nil && *d.Tolerance == 0 {
		return s.wrong(path+".tolerance", "no mix is exact", "write a CIEDE2000 over 0, or leave it out for the scene's")
	}
	t := Target{Name: strings.TrimSpace(d.Name), Colour: d.Colour, Lab: lab, Plane: d.Plane,
		Area: or(d.Area, defaultArea), Tolerance: or(d.Tolerance, 0)}
	if at := d.At; at != nil {
		if at.X == nil || at.Y == nil {
			return s.wrong(path+".at", "x and y are both needed", `write at = {photo = "wide", x = 0.4, y = 0.8, radius = 0.02}`)
		}
		t.At = &Spot{at.Photo, *at.X, *at.Y, or(at.Radius, defaultRadius)}
	}
	s.Targets = append(s.Targets, t)
	return nil
}

// defaultRadius is wide enough to average over the grain of a photograph.
const defaultRadius = 0.01

func or[T any](given *T, otherwise T) T {
	if given == nil {
		return otherwise
	}
	return *given
}

// ParsePlaneBand reads a band of heights such as "distance=0:0.35".
func ParsePlaneBand(text string) (PlaneBand, error) {
	plane, heights, ok := strings.Cut(text, "=")
	from, to, ok2 := strings.Cut(heights, ":")
	if !ok || !ok2 {
		return PlaneBand{}, fmt.Errorf("%q is not a plane and its heights", plain.Short(text))
	}
	b := PlaneBand{Plane: strings.TrimSpace(plane)}
	var err1, err2 error
	b.From, err1 = strconv.ParseFloat(strings.TrimSpace(from), 64)
	b.To, err2 = strconv.ParseFloat(strings.TrimSpace(to), 64)
	if err1 != nil || err2 != nil {
		return PlaneBand{}, fmt.Errorf("the heights of %q are not numbers", plain.Short(text))
	}
	return b, b.check()
}

// String is the band as ParsePlaneBand reads it.
func (b PlaneBand) String() string {
	return fmt.Sprintf("%s=%s:%s", b.Plane, number(b.From), number(b.To))
}
