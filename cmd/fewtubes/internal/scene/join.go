package scene

import (
	"fmt"
	"path"
	"reflect"
	"slices"
	"strings"

	"fewtubes/gamut/film"
)

// Join makes one scene of several, in their order: their colours and photographs
// together, and what they say of limits, air, light and surface, which must not
// differ. Their photographs are named as from one place. A photograph of two
// scenes is one where its planes, distances, crop and values are the same; names
// met twice are told apart by the scene. What cannot go together is an *Error.
func Join(scenes []Scene) (Scene, error) {
	out := scenes[0]
	out.Photos, out.Targets = nil, nil
	var titles []string
	names := map[string]bool{}
	for k := range scenes {
		s := &scenes[k]
		if err := out.agree(s, k == 0); err != nil {
			return Scene{}, err
		}
		if s.Title != "" {
			titles = append(titles, s.Title)
		}
		photos := out.joinPhotos(s)
		for _, t := range s.Targets {
			if t.Tolerance == 0 && s.Tolerance != out.Tolerance {
				t.Tolerance = s.Tolerance
			}
			if t.At != nil {
				at := *t.At
				at.Photo = photos[at.Photo]
				t.At = &at
			}
			t.Name = fresh(names, t.Name, ", "+s.called())
			out.Targets = append(out.Targets, t)
		}
	}
	out.Title = strings.Join(titles, ", ")
	return out, out.Check()
}

// called is what tells a scene's names apart.
func (s *Scene) called() string {
	if s.Title != "" {
		return s.Title
	}
	base := path.Base(strings.ReplaceAll(s.file, `\`, "/"))
	return strings.TrimSuffix(base, path.Ext(base))
}

// agree takes from another scene what this one leaves open, and refuses what
// differs.
func (s *Scene) agree(o *Scene, first bool) error {
	if first {
		return nil
	}
	differs := func(key, what string) error {
		return o.wrong(key, what+" differs from that of "+s.file, "make them alike, or leave it out of one")
	}
	if o.Light != s.Light {
		return differs("light", "the light")
	}
	if a, b := dry(o.Surface), dry(s.Surface); a != b {
		return differs("surface", "the surface")
	}
	if !slices.Equal(o.Palette, s.Palette) {
		s.Palette = nil // decided on for one of them
	}
	switch {
	case limitLines(&o.Limits) == "" || reflect.DeepEqual(o.Limits, s.Limits):
	case limitLines(&s.Limits) == "":
		s.Limits, s.at, s.file = o.Limits, o.at, o.file // for what is said of them later
	default:
		return differs("limits", "this list of limits")
	}
	switch {
	case o.Air == nil || airLines(o.Air) == airLines(s.Air):
	case s.Air == nil:
		s.Air = o.Air
	default:
		return differs("air", "the air")
	}
	return nil
}

func dry(v film.View) film.View {
	if v == "" {
		return film.AsDried
	}
	return v
}

// joinPhotos adds the photographs of another scene, and gives their names here.
func (s *Scene) joinPhotos(o *Scene) map[string]string {
	named, names := map[string]string{}, map[string]bool{}
	for _, p := range s.Photos {
		names[p.Name] = true
	}
	for _, p := range o.Photos {
		same := func(q Photo) bool {
			q.Name, q.Targets = p.Name, p.Targets
			return reflect.DeepEqual(p, q)
		}
		was := p.Name
		found := false
		for _, q := range s.Photos {
			if same(q) {
				named[was], found = q.Name, true
				break
			}
		}
		if found {
			continue
		}
		p.Name = fresh(names, p.Name, "")
		named[was] = p.Name
		s.Photos = append(s.Photos, p)
	}
	return named
}

// fresh is a name that is not taken yet: with an ending, or else a number.
func fresh(taken map[string]bool, name, ending string) string {
	out := name
	if taken[out] && ending != "" {
		name += ending
		out = name
	}
	for n := 2; taken[out]; n++ {
		out = fmt.Sprintf("%s-%d", name, n)
	}
	taken[out] = true
	return out
}
