package owntubes

import (
	"errors"
	"fmt"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/plain"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
)

// Apply is the catalogue with the file's tubes: each takes the place of the one
// with its id, or follows at the end; or they stand alone, in the file's order,
// where the file says so. Tubes whose two colours no paint has are left out,
// and leftOut says why, unless no tube remains. Errors are *Error.
func (f *File) Apply(c *catalog.Catalogue) (with *catalog.Catalogue, leftOut []error, err error) {
	if len(f.Tubes) == 0 {
		return nil, nil, &Error{File: f.name, Msg: "there is no tube in it", Remedy: `add one under [[tube]], such as id = "titanium-white"`}
	}
	var tubes []catalog.Tube
	if !f.Instead {
		tubes = c.Tubes()
	}
	index := map[string]int{} // into tubes
	for i := range tubes {
		index[tubes[i].ID] = i
	}
	made := map[string]int{} // own tubes so far, by id: index into tubes
	for i := range f.Tubes {
		t, err := f.tube(i, c, func(id string) *catalog.Tube {
			if k, ok := made[id]; ok {
				return &tubes[k]
			}
			return nil
		})
		if errors.As(err, new(*impossible)) {
			leftOut = append(leftOut, err)
			continue
		}
		if err != nil {
			return nil, nil, err
		}
		if _, twice := made[t.ID]; twice {
			return nil, nil, f.wrong(i, "id", fmt.Sprintf("%q stands twice", plain.Short(t.ID)), "give one of them another id")
		}
		at, known := index[t.ID]
		if !known {
			at = len(tubes)
			tubes = append(tubes, t)
		}
		tubes[at], made[t.ID] = t, at
	}
	if len(made) == 0 && len(leftOut) > 0 {
		return nil, nil, leftOut[0]
	}
	if with, err = c.With(tubes); err != nil || len(f.Swatches) == 0 {
		return with, leftOut, err
	}
	l, err := f.teach(with, nil)
	if err != nil {
		return nil, nil, err
	}
	return l.After, append(leftOut, l.LeftOut...), nil
}

// impossible is about a tube that no paint can be, however it is written.
type impossible struct{ error }

func (e *impossible) Unwrap() error { return e.error }

// tube makes tube i; own finds one made before it.
func (f *File) tube(i int, c *catalog.Catalogue, own func(string) *catalog.Tube) (catalog.Tube, error) {
	e := &f.Tubes[i]
	t, known := c.Find(e.ID)
	switch {
	case e.Like != "":
		var err error
		if t, err = c.Get(e.Like); err != nil {
			key := f.likeKey(i)
			return t, f.wrong(i, key, err.Error(), remedyLike(err, key))
		}
		known = true
	case known:
		t.Basis, t.Source = catalog.Estimated, e.origin()
	default:
		t = catalog.Tube{Basis: catalog.Estimated, Source: e.origin(), Caution: defaultCaution, Density: defaultDensity, SizeML: defaultSize, Band: 1}
	}
	brought := e.brings(&t, known, c, own)
	e.override(&t)
	e.warn(&t, brought)
	if err := f.paint(i, &t, c, own); err != nil {
		return t, err
	}
	if field, err := t.Check(); err != nil {
		return t, f.wrong(i, field, err.Error(), remedies[field])
	}
	return t, nil
}

// remedies are how to mend what catalog.Tube.Check refuses.
var remedies = map[string]string{
	"id":            "write it as in my-blue",
	"pigments":      `write them as in ["PB29", "PW6"]`,
	"hazards":       "use these words, or leave it out",
	"basis":         "use one of these words, or leave it out",
	"lightfastness": "use one of these classes, or leave it out",
	"opacity":       "use one of these words, or leave it out",
	"drying":        "use one of these words, or leave it out",
	"k":             "give its colours or readings again",
}

// likeKey is the key that names the tube of the catalogue: id, where it stands alone.
func (f *File) likeKey(i int) string {
	if e := &f.Tubes[i]; e.ID == e.Like && f.at[fmt.Sprintf("%d.like", i)] == 0 {
		return "id"
	}
	return "like"
}

// ownID is the id of a tube that has one of its own; empty: that of the catalogue.
func (e *Tube) ownID() string {
	if e.ID == e.Like {
		return ""
	}
	return e.ID
}

// remedyLike is nothing where the error suggests an id already.
func remedyLike(err error, key string) string {
	var unknown *catalog.UnknownTube
	switch {
	case errors.As(err, &unknown) && len(unknown.Close) > 0:
		return ""
	case key == "id":
		return "correct it, or give the paint of a tube of your own: like, k and s, masstone and tint, or mix"
	}
	return "fewtubes tubes lists them"
}

// origin is the source of an entry that names none.
func (e *Tube) origin() string {
	switch {
	case e.Film != nil:
		return "the painter's own readings"
	case e.Colours != nil:
		return "two colours the painter gave"
	}
	return "the painter's own mixture"
}

// Where the file does not say: a middling paint in a usual tube.
const (
	defaultDensity = 1.5 // g/ml
	defaultSize    = 40  // ml
	defaultCaution = "Read the label of the tube and its safety data sheet."
)

// override puts what the entry says in place of what the tube had.
func (e *Tube) override(t *catalog.Tube) {
	for _, s := range []struct {
		from string
		to   *string
	}{
		{e.ownID(), &t.ID}, {e.Name, &t.Name}, {e.Source, &t.Source}, {e.Caution, &t.Caution},
		{e.Lightfastness, &t.Lightfastness}, {e.Opacity, &t.Opacity}, {e.Drying, &t.Drying}, {string(e.Basis), (*string)(&t.Basis)},
	} {
		if s.from != "" {
			*s.to = s.from
		}
	}
	if t.Name == "" {
		t.Name = t.ID
	}
	if e.Pigments != nil {
		t.Pigments = slices.Clone(e.Pigments)
	}
	if e.Density != nil {
		t.Density = *e.Density
	}
	if e.SizeML != nil {
		t.SizeML = *e.SizeML
	}
	if e.Price != nil {
		t.Price = *e.Price
	}
	t.Have = !e.NotOwned
}

// paint fills in K and S, how far they may be off and the basis they deserve.
func (f *File) paint(i int, t *catalog.Tube, c *catalog.Catalogue, own func(string) *catalog.Tube) error {
	e := &f.Tubes[i]
	if e.Film != nil || e.Colours != nil {
		t.Parts = nil // what is read of the tube itself says nothing of parts
	}
	switch {
	case e.Film != nil:
		if s, ours := e.Film.Surface, c.Surface(film.AsDried); s != ours {
			return f.wrong(i, "surface", fmt.Sprintf("K and S fitted under k1 %g, k2 %g do not hold under k1 %g, k2 %g", s.K1, s.K2, ours.K1, ours.K2),
				"fit the readings again with fewtubes measure")
		}
		if e.Basis == "" {
			t.Basis = catalog.Fitted
		}
		t.Paint, t.Doubt = e.Film.paint(), t.Basis.Doubt()
		if e.Film.Doubt != nil {
			t.Doubt = *e.Film.Doubt
		}
	case e.Colours != nil:
		t.Basis, t.Doubt = catalog.Estimated, doubt.TwoColours
		return f.fromColours(i, t, c)
	case e.Mix != nil:
		t.Basis = catalog.Estimated
		return f.mix(i, t, c, own)
	}
	return nil
}

func (f *File) fromColours(i int, t *catalog.Tube, c *catalog.Catalogue) error {
	e := f.Tubes[i].Colours
	if !(e.Parts > 0 && e.Parts <= 1e6) {
		return f.wrong(i, "tint-parts", fmt.Sprintf("%v parts of white make no tint", e.Parts), "write parts of white to one of the tube, such as 9")
	}
	masstone, err := colour.Parse(e.Masstone)
	if err != nil {
		return f.wrong(i, "masstone", err.Error(), "")
	}
	tint, err := colour.Parse(e.Tint)
	if err != nil {
		return f.wrong(i, "tint", err.Error(), "")
	}
	white := c.White()
	if white == nil {
		return f.wrong(i, "tint", "the catalogue has no white to make a tint with", "add a white to the file first")
	}
	t.Paint, err = film.FromColours(masstone, tint, e.Parts, white, colour.D65(), c.Surface(film.AsDried))
	var wrong *film.SwatchError
	if errors.As(err, &wrong) {
		return &impossible{f.wrong(i, wrong.Swatch, wrong.Err.Error(), "take both colours from one photograph, with a grey card in it")}
	}
	return err
}

func (f *File) mix(i int, t *catalog.Tube, c *catalog.Catalogue, own func(string) *catalog.Tube) error {
	var tubes []*catalog.Tube
	var parts []float64
	for _, p := range f.Tubes[i].Mix {
		part := own(p.Tube)
		if part == nil {
			found, err := c.Get(p.Tube)
			if err != nil {
				return f.wrong(i, "mix", err.Error(), "name a tube of the catalogue, or one that stands earlier in this file")
			}
			part = &found
		}
		tubes, parts = append(tubes, part), append(parts, p.Parts)
	}
	t.MixOf(tubes, parts)
	return nil
}
