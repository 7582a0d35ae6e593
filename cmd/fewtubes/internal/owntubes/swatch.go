package owntubes

import (
	"fmt"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Swatch is one patch that the painter painted and looked at. The record of them is
// kept, and what they teach is worked out again from all of them whenever it is asked for.
type Swatch struct {
	Recipe string   `toml:"recipe"` // as in a sheet of readings
	Seen   string   `toml:"seen"`   // its colour, for colour.Parse, D65
	By     string   `toml:"seen-by"`
	Noise  *float64 `toml:"noise"`  // of Seen, root mean square CIEDE2000; nil: as By has it
	Ground string   `toml:"ground"` // colour of the bare ground under a film

	Line int `toml:"-"` // of another file that it stands in; 0: of this one
}

// mostSwatches of a file.
const mostSwatches = 500

const remedyRecipe = "write it like 3 ultramarine-blue + 1 yellow-ochre"

// checkSwatch checks swatch i but for what only a catalogue can tell.
func (f *File) checkSwatch(i int) error {
	s := &f.Swatches[i]
	if i >= mostSwatches {
		return f.wrongSwatch(i, "", fmt.Sprintf("more than %d swatches are no record of a box", mostSwatches), "take the oldest out")
	}
	r, msg := readings.ParseRecipe(s.Recipe)
	switch {
	case s.Recipe == "":
		return f.wrongSwatch(i, "recipe", "it has no recipe", remedyRecipe)
	case msg != "":
		return f.wrongSwatch(i, "recipe", msg, remedyRecipe)
	case len(r.Parts) == 0:
		return f.wrongSwatch(i, "recipe", "a bare chart is no swatch", "write its colour as the ground of the films on it")
	case r.Thickness > 0 && s.Ground == "":
		return f.wrongSwatch(i, "ground", "the film is thin and the colour of the ground under it is missing", `write it as in ground = "lab(95 0 2)"`)
	}
	if _, err := colour.Parse(s.Seen); err != nil {
		return f.wrongSwatch(i, "seen", err.Error(), "")
	}
	if _, err := colour.Parse(s.Ground); err != nil && s.Ground != "" {
		return f.wrongSwatch(i, "ground", err.Error(), "")
	}
	if _, ok := readings.ParseSeenBy(s.By); !ok {
		return f.wrongSwatch(i, "seen-by", fmt.Sprintf("%q is not known", plain.Short(s.By)), "write instrument, chip or camera, or leave it out")
	}
	if s.Noise != nil && !readings.CheckNoise(*s.Noise) {
		return f.wrongSwatch(i, "noise", fmt.Sprintf("%v is no noise", *s.Noise), "write how far the colour may be off, 0 to 30, or leave it out")
	}
	return nil
}

// noise of the colour.
func (s *Swatch) noise() float64 {
	if s.Noise != nil {
		return *s.Noise
	}
	by, _ := readings.ParseSeenBy(s.By)
	return by.Noise()
}

// same reports whether two swatches are one, written twice.
func (s *Swatch) same(other *Swatch) bool {
	a, _ := readings.ParseRecipe(s.Recipe)
	b, _ := readings.ParseRecipe(other.Recipe)
	p, _ := colour.Parse(s.Seen)
	q, _ := colour.Parse(other.Seen)
	return p == q && s.noise() == other.noise() && s.Ground == other.Ground && a.Same(b)
}

// swatch is swatch i as the film model takes it, its amounts by the ids, which ids has by the
// names recipes use.
func (f *File) swatch(i int, ids []string, named map[string]string, with *catalog.Catalogue) (out film.Swatch, err error) {
	s := &f.Swatches[i]
	r, _ := readings.ParseRecipe(s.Recipe)
	out = film.Swatch{Name: s.Recipe, Noise: s.noise()}
	out.Seen, _ = colour.Parse(s.Seen)
	out.Amounts = make([]float64, len(ids))
	densities := map[string]float64{}
	for _, p := range r.Parts {
		if p.Density > 0 {
			densities[p.Tube] = p.Density
		}
	}
	known := func(id string) float64 {
		t, _ := with.Find(named[id])
		return t.Density
	}
	for _, p := range r.Parts {
		for k, id := range ids {
			if id == named[p.Tube] {
				v := r.Volume(p, densities, known)
				if out.Amounts[k] += v; v == 0 {
					return out, f.wrongSwatch(i, "recipe", "it is weighed, and the density of "+p.Tube+" is not known", "write it in g/ml, as in 2 g "+p.Tube+" @1.6")
				}
			}
		}
	}
	if s.Ground != "" && r.Backing != readings.Opaque {
		lab, _ := colour.Parse(s.Ground)
		ground := groundOf(lab)
		out.Ground, out.Micrometres = &ground, r.Thickness
		if r.Thickness == 0 {
			out.Micrometres = usualFilm
		}
	}
	return out, nil
}

// usualFilm is a film of unknown thickness, micrometres: what is learnt allows for a factor
// of two and more (common practice, no source).
const usualFilm = 25

// groundOf is the smoothest reflectance of a colour, or a grey as light.
func groundOf(lab colour.Lab) colour.Spectrum {
	s, err := film.Reconstruct(lab, colour.D65(), film.Surface{})
	if err != nil {
		return colour.Flat(min(lab.XYZ(colour.D65().White).Y/100, 1))
	}
	return s
}
