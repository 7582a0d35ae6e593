package owntubes

import (
	"context"
	"fmt"
	"slices"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/readings"
	"fewtubes/gamut/film"
	"fewtubes/gamut/film/doubt"
)

// Lesson is what the swatches of a file teach.
type Lesson struct {
	Tubes    []catalog.Tube // that swatches hold, as they were
	Learnt   *film.Learnt   // of Tubes, and of Swatches
	Swatches []int          // of the file, those that served
	After    *catalog.Catalogue
	LeftOut  []error // swatches that did not serve, each an *Error
}

// Teach is what the file teaches beside a catalogue; nil where it holds no swatch. Errors
// are *Error.
func (f *File) Teach(c *catalog.Catalogue) (*Lesson, error) {
	if len(f.Swatches) == 0 {
		return nil, nil
	}
	plain := *f
	plain.Swatches = nil
	with, _, err := plain.Apply(c)
	if err != nil {
		return nil, err
	}
	return f.teach(with)
}

// teach learns from the swatches, the tubes being those of a catalogue.
func (f *File) teach(with *catalog.Catalogue) (*Lesson, error) {
	l := &Lesson{}
	var priors []film.Prior
	var ids []string
	named := map[string]string{} // by what recipes call them
	for i := range f.Swatches {
		r, _ := readings.ParseRecipe(f.Swatches[i].Recipe)
		for _, p := range r.Parts {
			if named[p.Tube] != "" {
				continue
			}
			t, err := with.Get(p.Tube)
			if err != nil {
				return nil, f.wrongSwatch(i, "recipe", err.Error(), "fewtubes tubes lists them; one of your own stands under [[tube]]")
			}
			if named[p.Tube] = t.ID; slices.Contains(ids, t.ID) {
				continue
			}
			l.Tubes, ids = append(l.Tubes, t), append(ids, t.ID)
			priors = append(priors, film.Prior{Paint: t.Paint, Doubt: f.doubtOf(&t), White: t.IsWhite()})
		}
	}
	var swatches []film.Swatch
	for i := range f.Swatches {
		if k := slices.IndexFunc(f.Swatches[:i], func(s Swatch) bool { return s.same(&f.Swatches[i]) }); k >= 0 {
			l.LeftOut = append(l.LeftOut, f.wrongSwatch(i, "", fmt.Sprintf("it is swatch %d once more, and is counted once", k+1), "take one of them out"))
			continue
		}
		s, err := f.swatch(i, ids, named, with)
		if err != nil {
			l.LeftOut = append(l.LeftOut, err)
			continue
		}
		l.Swatches, swatches = append(l.Swatches, i), append(swatches, s)
	}
	var err error
	if l.Learnt, err = film.Learn(context.Background(), swatches, priors, film.DefaultLearn(with.Scale())); err != nil {
		return nil, &Error{File: f.name, Field: "swatch", Msg: err.Error(), Remedy: "look at its recipe and its colour"}
	}
	all := with.Tubes()
	for i := range all {
		if k := slices.Index(ids, all[i].ID); k >= 0 {
			l.move(&all[i], k)
		}
	}
	l.After, err = with.With(all)
	return l, err
}

// doubtOf is the doubt about a tube before a swatch of it is seen. One that is like another
// pigment's, and says that this is an estimate, is as doubtful as that.
func (f *File) doubtOf(t *catalog.Tube) (d doubt.Spread) {
	d = t.Doubt
	stated := slices.ContainsFunc(f.Tubes, func(e Tube) bool {
		return e.Like != "" && e.ownID() == t.ID && e.Basis == catalog.Estimated
	})
	if len(t.Parts) > 0 || stated {
		d = t.Basis.Doubt()
	}
	return d
}

// move puts what was learnt of tube k in the place of what was known.
func (l *Lesson) move(t *catalog.Tube, k int) {
	p := &l.Learnt.Paints[k]
	if p.Swatches == 0 {
		return
	}
	t.Paint, t.Doubt, t.Parts = p.Paint, p.Doubt, nil
	t.Source = fmt.Sprintf("%s; moved by %s, strength within %.0f %%", t.Source, count(p.Swatches), 100*(p.Within-1))
}

func count(swatches int) string {
	if swatches == 1 {
		return "1 swatch"
	}
	return fmt.Sprintf("%d swatches", swatches)
}
