package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// deriver turns derivations into paints on the catalogue's scale.
type deriver struct {
	*published
	correct *correction
	learner *learner
	order   []derivation
	steps   map[string]derivation
	done    map[string]*film.Paint
	doing   map[string]bool
}

func newDeriver(p *published, c *correction, steps []derivation) *deriver {
	d := &deriver{published: p, correct: c, order: steps, steps: map[string]derivation{}, done: map[string]*film.Paint{}, doing: map[string]bool{}}
	for _, s := range steps {
		d.steps[s.id] = s
	}
	return d
}

// method is one way for a tube to come by its K and S; nil if there is none of
// that name.
func (d *deriver) method(name string) func(derivation) (film.Paint, error) {
	switch name {
	case "readings":
		return func(s derivation) (film.Paint, error) { return d.foretold(s, nil) }
	case "borrowed":
		return d.borrowed
	case "fine":
		return d.fine
	case "flat":
		return d.flat
	}
	return nil
}

// tube derives one tube, and first the tubes it leans on.
func (d *deriver) tube(id string) (*film.Paint, error) {
	if p := d.done[id]; p != nil {
		return p, nil
	}
	s, ok := d.steps[id]
	find := d.method(s.method)
	switch {
	case !ok:
		return nil, fmt.Errorf("derivations.csv does not list %q", id)
	case d.doing[id]:
		return nil, fmt.Errorf("%s is derived from itself", id)
	case find == nil:
		return nil, fmt.Errorf("%s: there is no method %q", id, s.method)
	}
	d.doing[id] = true
	p, err := find(s)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", id, err)
	}
	p = times(&p, 1)
	d.done[id] = &p
	return &p, nil
}

// errNoReading says that nothing is left to foretell a tube from.
var errNoReading = errors.New("no reading of it is left")

// foretold is the mean of the readings of a pigment whose sets are not left
// out; where none is, the first other reading that is not.
func (d *deriver) foretold(s derivation, without []string) (film.Paint, error) {
	from := d.foretoldFrom(s, without)
	if len(from) == 0 {
		return film.Paint{}, errNoReading
	}
	var paints []*film.Paint
	for _, r := range from {
		p, err := d.reading(r, s.group)
		if err != nil {
			return film.Paint{}, err
		}
		paints = append(paints, p)
	}
	return meanPaint(paints), nil
}

func (d *deriver) foretoldFrom(s derivation, without []string) []source {
	left := func(all []source) []source {
		return slices.DeleteFunc(slices.Clone(all), func(r source) bool { return slices.Contains(without, r.set) })
	}
	if from := left(s.readings); len(from) > 0 {
		return from
	}
	other := left(s.otherwise)
	return other[:min(len(other), 1)]
}

// reading is one paint on the catalogue's scale; a chart patch is corrected.
func (d *deriver) reading(r source, group string) (*film.Paint, error) {
	p := d.sets[r.set][r.name]
	if p == nil {
		return nil, fmt.Errorf("there is no reading %q", r)
	}
	if r.set == chart {
		corrected, err := d.correct.paint(p, group)
		return &corrected, err
	}
	return p, nil
}

// borrowed takes K/S from a chart patch and S from a relative: where a patch
// hides its ground, or hardly scatters at all, nothing else tells its S.
func (d *deriver) borrowed(s derivation) (film.Paint, error) {
	if len(s.readings) != 1 {
		return film.Paint{}, fmt.Errorf("%d readings, not one", len(s.readings))
	}
	patch := d.sets[s.readings[0].set][s.readings[0].name]
	if patch == nil {
		return film.Paint{}, fmt.Errorf("there is no reading %q", s.readings[0])
	}
	like := d.sets[oils][strings.TrimPrefix(s.relative, oils+":")]
	if like == nil {
		var err error
		if like, err = d.tube(s.relative); err != nil {
			return film.Paint{}, err
		}
	}
	p := *like
	for b := range p.K {
		p.K[b] = d.correct.ratio(patch, b) * like.S[b]
	}
	return p, nil
}

// finer is how many times less a finely ground, transparent iron oxide
// scatters than the opaque one of the same K: chosen, not measured.
const finer = 8

func (d *deriver) fine(s derivation) (film.Paint, error) {
	like, err := d.tube(s.relative)
	if err != nil {
		return film.Paint{}, err
	}
	p := *like
	for b := range p.S {
		p.S[b] /= finer
	}
	return p, nil
}

// flat is a black with, in every band, the mean K and the mean S an iron oxide
// has where it absorbs most, 400-550 nm.
func (d *deriver) flat(s derivation) (film.Paint, error) {
	like, err := d.tube(s.relative)
	if err != nil {
		return film.Paint{}, err
	}
	p := *like
	const from, to = (400 - colour.StartNM) / colour.StepNM, (550-colour.StartNM)/colour.StepNM + 1
	for _, v := range []*[colour.Bands]float64{&p.K, &p.S} {
		level := mean(v[from:to])
		for b := range v {
			v[b] = level
		}
	}
	return p, nil
}
