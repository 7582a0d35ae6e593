package scene

import (
	"fmt"
	"slices"
	"strings"

	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/solver"
)

// Check finds the first thing wrong with a scene, an *Error, or nil.
func (s *Scene) Check() error {
	if err := s.checkHead(); err != nil {
		return err
	}
	if err := s.checkLimits(); err != nil {
		return err
	}
	if err := s.checkAir(); err != nil {
		return err
	}
	photos, err := s.checkPhotos()
	if err != nil {
		return err
	}
	return s.checkTargets(photos)
}

const (
	steering    = "a line break or another character that steers what shows it"
	remedyPlain = "write it on one line in plain letters"
)

func (s *Scene) checkHead() error {
	if !plain.Line(s.Title) {
		return s.wrong("title", "it holds "+steering, remedyPlain)
	}
	if !(s.Tolerance > 0 && s.Tolerance <= 100) {
		return s.wrong("tolerance", fmt.Sprintf("%v is no CIEDE2000 difference", s.Tolerance), "write a number over 0, at most 100, such as 3")
	}
	if _, err := colour.ParseLight(s.Light); err != nil {
		return s.wrong("light", fmt.Sprintf("unknown light %q", plain.Short(s.Light)), "use D65, D50 or A")
	}
	if _, err := film.ParseView(string(s.Surface)); err != nil {
		return s.wrong("surface", fmt.Sprintf("unknown surface %q", plain.Short(string(s.Surface))), "use dry or no-glare")
	}
	if slices.ContainsFunc(s.Palette, func(name string) bool { return strings.TrimSpace(name) == "" }) {
		return s.wrong("palette", "an entry is empty", "remove it")
	}
	return nil
}

// checkPhotos gives the place of each name too.
func (s *Scene) checkPhotos() (seen map[string]int, err error) {
	seen = map[string]int{}
	for i, p := range s.Photos {
		path := fmt.Sprintf("photo[%d]", i)
		switch first, twice := seen[p.Name]; {
		case strings.TrimSpace(p.Name) == "":
			return nil, s.wrong(path+".name", "the photograph has no name", `write name = "wide" or the like`)
		case twice:
			return nil, s.wrong(path+".name", fmt.Sprintf("%q is already the name of photograph %d", plain.Short(p.Name), first+1), "give each its own name")
		case !plain.Line(p.Name):
			return nil, s.wrong(path+".name", "it holds "+steering, remedyPlain)
		case p.File == "":
			return nil, s.wrong(path+".file", "the photograph names no file", `write file = "wide.jpg" or the like`)
		case p.Targets < 0:
			return nil, s.wrong(path+".targets", fmt.Sprintf("%d targets cannot be sampled", p.Targets), "write 1 or more, or leave it out")
		}
		seen[p.Name] = i
		for _, b := range p.Planes {
			if err := b.Check(); err != nil {
				return nil, s.wrong(path+".planes", err.Error(), `write them as in "distance=0:0.35" or "distance=0,0.3 1,0.3 1,0.5"`)
			}
		}
		if err := CheckCrop(p.Crop); err != nil {
			return nil, s.wrong(path+".crop", err.Error(), "write crop = [0.1, 0.2, 0.9, 1]")
		}
		if err := s.checkDistances(path+".distances", &p.Distances); err != nil {
			return nil, err
		}
		if p.Values != nil {
			if err := p.Values.Check(); err != nil {
				return nil, s.wrong(path+".values", err.Error(), "write values = {from = [4, 50, 98], to = [23, 50, 97]}")
			}
		}
	}
	return seen, nil
}

func (s *Scene) checkTargets(photos map[string]int) error {
	if len(s.Targets) == 0 {
		return s.wrong("", "there is no target", "add a [[target]] with a name and a colour")
	}
	seen := map[string]int{}
	for i := range s.Targets {
		t := &s.Targets[i]
		if t.Name == "" {
			return s.wrong(fmt.Sprintf("target[%d].name", i), "the target has no name", `write name = "wet mud" or the like`)
		}
		if !plain.Line(t.Name) {
			return s.wrong(fmt.Sprintf("target[%d].name", i), "it holds "+steering, remedyPlain)
		}
		if first, twice := seen[t.Name]; twice {
			return s.wrong(fmt.Sprintf("target[%d].name", i), fmt.Sprintf("%q is already the name of target %d", plain.Short(t.Name), first+1), "give each its own name")
		}
		seen[t.Name] = i
		if err := s.checkTarget(i, t, photos); err != nil {
			return err
		}
	}
	return nil
}

// CheckCrop reports what is wrong with the left, top, right and bottom of what
// counts of a picture; none is all of it.
func CheckCrop(crop []float64) error {
	if len(crop) == 0 {
		return nil
	}
	if len(crop) != 4 {
		return fmt.Errorf("a crop has four sides, %d found", len(crop))
	}
	l, t, r, b := crop[0], crop[1], crop[2], crop[3]
	if !(l >= 0 && l < r && r <= 1 && t >= 0 && t < b && b <= 1) {
		return fmt.Errorf("left %s, top %s, right %s, bottom %s are not within the picture, 0 to 1", number(l), number(t), number(r), number(b))
	}
	return nil
}

// largestArea keeps sums of areas exact enough, whatever unit they are in.
const largestArea = 1e9

func (s *Scene) checkTarget(i int, t *Target, photos map[string]int) error {
	path := fmt.Sprintf("target[%d].", i)
	switch {
	case !t.Lab.Finite():
		return s.wrong(path+"colour", "the colour is not a number", "write it as in lab(38 4 9)")
	case t.Plane != "" && !slices.Contains(Planes, t.Plane):
		return s.wrong(path+"plane", fmt.Sprintf("unknown plane %q", plain.Short(t.Plane)), "use "+planesInWords()+", or leave it out")
	case !(t.Area >= 0 && t.Area <= largestArea):
		return s.wrong(path+"area", fmt.Sprintf("%v is no area", t.Area), "write 0 or more, only the proportions count")
	case !(t.Tolerance >= 0 && t.Tolerance <= 100):
		return s.wrong(path+"tolerance", fmt.Sprintf("%v is no CIEDE2000 difference", t.Tolerance), "write a number over 0, at most 100, or leave it out for the scene's")
	}
	if t.Seen != "" {
		if _, err := ParseDistance(t.Seen); err != nil {
			return s.wrong(path+"seen", err.Error(), remedyDistance)
		}
	}
	at := t.At
	if at == nil {
		return nil
	}
	_, known := photos[at.Photo]
	switch {
	case !known:
		return s.wrong(path+"at", fmt.Sprintf("no photograph is named %q", plain.Short(at.Photo)), "name one of the [[photo]] entries")
	case !(at.X >= 0 && at.X <= 1 && at.Y >= 0 && at.Y <= 1):
		return s.wrong(path+"at", fmt.Sprintf("x %v, y %v lie outside the picture", at.X, at.Y), "write fractions of its width and height, 0 to 1")
	case !(at.Radius >= 0 && at.Radius <= 1):
		return s.wrong(path+"at", fmt.Sprintf("radius %v is no part of the picture", at.Radius), "write a fraction of its width, 0 to 1")
	}
	return nil
}

func planesInWords() string {
	last := len(Planes) - 1
	return strings.Join(Planes[:last], ", ") + " or " + Planes[last]
}

// wrong is an error at a path such as "target[2].colour".
func (s *Scene) wrong(path, msg, remedy string) error {
	return &Error{File: s.file, Line: s.at.line(path), Field: s.field(path), Msg: msg, Remedy: remedy}
}

// field names a path in words: target "wet mud", colour.
func (s *Scene) field(path string) string {
	head, key, _ := strings.Cut(path, ".")
	kind, index, listed := strings.Cut(strings.TrimSuffix(head, "]"), "[")
	if !listed {
		return path
	}
	var n int
	fmt.Sscan(index, &n)
	name := ""
	switch {
	case kind == "target" && n < len(s.Targets):
		name = s.Targets[n].Name
	case kind == "photo" && n < len(s.Photos):
		name = s.Photos[n].Name
	}
	if name == "" {
		return fmt.Sprintf("%s %d, %s", kind, n+1, key)
	}
	return fmt.Sprintf("%s %q, %s", kind, plain.Short(name), key)
}

var preferences = []solver.Preference{solver.Usual, solver.Accuracy, solver.Price, solver.FewestHazards, solver.Lightfast, solver.Holds}
