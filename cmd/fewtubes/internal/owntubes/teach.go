package owntubes

import (
	"context"
	"fmt"
	"math"
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

	painted [][]float64 // the amounts of Tubes in Swatches
}

// Among are mixtures of some tubes, all of which take part in the lesson, as mixtures of its own.
func (l *Lesson) Among(tubes []catalog.Tube, list []film.Mixture) []film.Mixture {
	out := slices.Clone(list)
	for i := range out {
		amounts := make([]float64, len(l.Tubes))
		for k, a := range list[i].Amounts {
			amounts[slices.IndexFunc(l.Tubes, func(t catalog.Tube) bool { return t.ID == tubes[k].ID })] += a
		}
		out[i].Amounts = amounts
	}
	return out
}

// Holds reports whether a swatch of the lesson is of a mixture of some tubes, however it was laid out.
func (l *Lesson) Holds(tubes []catalog.Tube, m *film.Mixture) bool {
	const alike = 1e-9
	whole := l.Among(tubes, []film.Mixture{*m})[0].Amounts
	return slices.ContainsFunc(l.painted, func(amounts []float64) bool {
		for k, a := range amounts {
			if math.Abs(a/sum(amounts)-whole[k]/sum(whole)) > alike {
				return false
			}
		}
		return true
	})
}

func sum(v []float64) (s float64) {
	for _, x := range v {
		s += x
	}
	return s
}

// Teach is what the file teaches beside a catalogue; nil where it holds no swatch. Errors
// are *Error.
func (f *File) Teach(c *catalog.Catalogue) (*Lesson, error) {
	if len(f.Swatches) == 0 {
		return nil, nil
	}
	return f.TeachAmong(c, nil)
}

// TeachAmong is Teach with further tubes among those of the lesson, by id, whether a swatch holds them
// or not.
func (f *File) TeachAmong(c *catalog.Catalogue, ids []string) (*Lesson, error) {
	with := c
	if len(f.Tubes)+len(f.Swatches) > 0 {
		plain := *f
		plain.Swatches = nil
		var err error
		if with, _, err = plain.Apply(c); err != nil {
			return nil, err
		}
	}
	return f.teach(with, ids)
}

// teach learns from the swatches, the tubes being those of a catalogue, some also.
func (f *File) teach(with *catalog.Catalogue, also []string) (*Lesson, error) {
	l := &Lesson{}
	var priors []film.Prior
	var ids []string
	enter := func(t *catalog.Tube) {
		if slices.Contains(ids, t.ID) {
			return
		}
		l.Tubes, ids = append(l.Tubes, *t), append(ids, t.ID)
		priors = append(priors, film.Prior{Paint: t.Paint, Doubt: f.doubtOf(t), White: t.IsWhite()})
	}
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
			named[p.Tube] = t.ID
			enter(&t)
		}
	}
	for _, id := range also {
		if t, ok := with.Find(id); ok {
			enter(&t)
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
		l.Swatches, swatches, l.painted = append(l.Swatches, i), append(swatches, s), append(l.painted, s.Amounts)
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
