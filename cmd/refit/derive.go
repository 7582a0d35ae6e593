package main

import (
	"fmt"
	"strconv"
	"strings"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// deriver turns derivations into paints, each on the catalogue's scale.
type deriver struct {
	*published
	scales map[string]float64
	steps  map[string]derivation
	done   map[string]*film.Paint
	doing  map[string]bool
}

// method is one way for a tube to come by its K and S; nil if there is none of
// that name.
func (d *deriver) method(name string) func(derivation) (film.Paint, error) {
	switch name {
	case "acrylic":
		return d.acrylic
	case "film":
		return d.paintFilm
	case "oil":
		return d.oil
	case "chart":
		return d.chart
	case "masstone":
		return d.opaquePatch
	case "fine":
		return d.fine
	case "flat":
		return d.flat
	case "mixture":
		return d.mixture
	}
	return nil
}

func newDeriver(p *published, scales map[string]float64, steps []derivation) *deriver {
	d := &deriver{published: p, scales: scales, steps: map[string]derivation{}, done: map[string]*film.Paint{}, doing: map[string]bool{}}
	for _, s := range steps {
		d.steps[s.id] = s
	}
	return d
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
	scaled := times(&p, s.strength)
	d.done[id] = &scaled
	return &scaled, nil
}

// times scales K and S together, within their floors and ceilings.
func times(p *film.Paint, by float64) (out film.Paint) {
	for b := range p.K {
		out.K[b] = min(max(p.K[b]*by, film.FloorK), film.CeilK)
		out.S[b] = min(max(p.S[b]*by, film.FloorS), film.CeilS)
	}
	return out
}

func reading(from map[string]*film.Paint, name string) (film.Paint, error) {
	p := from[name]
	if p == nil {
		return film.Paint{}, fmt.Errorf("there is no reading %q", name)
	}
	return *p, nil
}

func (d *deriver) acrylic(s derivation) (film.Paint, error) { return reading(d.acrylics, s.reading) }

func (d *deriver) paintFilm(s derivation) (film.Paint, error) { return reading(d.films, s.reading) }

func (d *deriver) oil(s derivation) (film.Paint, error) { return d.scaled(d.oils, s) }

func (d *deriver) chart(s derivation) (film.Paint, error) { return d.scaled(d.patches, s) }

func (d *deriver) scaled(from map[string]*film.Paint, s derivation) (film.Paint, error) {
	by, ok := d.scales[s.scale]
	if !ok {
		return film.Paint{}, fmt.Errorf("there is no scale %q", s.scale)
	}
	p, err := reading(from, s.reading)
	return times(&p, 1/by), err
}

// opaquePatch takes K/S from a patch that hides its ground, so that nothing
// tells its S, and S from a relative.
func (d *deriver) opaquePatch(s derivation) (film.Paint, error) {
	p, err := reading(d.patches, s.reading)
	if err != nil {
		return p, err
	}
	like, err := d.tube(s.relative)
	if err != nil {
		return p, err
	}
	for b := range p.K {
		p.K[b], p.S[b] = p.K[b]/p.S[b]*like.S[b], like.S[b]
	}
	return p, nil
}

// finer is how many times less a finely ground, transparent iron oxide
// scatters than the opaque one of the same K: chosen, not measured.
const finer = 5

func (d *deriver) fine(s derivation) (film.Paint, error) {
	p, err := reading(d.films, s.reading)
	for b := range p.S {
		p.S[b] /= finer
	}
	return p, err
}

// flat is a black with, in every band, the mean K and the mean S an iron oxide
// has where it absorbs most, 400-550 nm.
func (d *deriver) flat(s derivation) (film.Paint, error) {
	p, err := reading(d.films, s.reading)
	const from, to = (400 - colour.StartNM) / colour.StepNM, (550-colour.StartNM)/colour.StepNM + 1
	level := func(v *[colour.Bands]float64) {
		mean := 0.0
		for _, x := range v[from:to] {
			mean += float64(x / float64(to-from))
		}
		for b := range v {
			v[b] = mean
		}
	}
	level(&p.K)
	level(&p.S)
	return p, err
}

// mixture reads a recipe such as "titanium-white:5 yellow-ochre:2", parts by
// volume.
func (d *deriver) mixture(s derivation) (mix film.Paint, err error) {
	var paints []film.Paint
	var shares []float64
	sum := 0.0
	for _, part := range strings.Fields(s.reading) {
		id, text, _ := strings.Cut(part, ":")
		share, err := strconv.ParseFloat(text, 64)
		if err != nil || !(share > 0) {
			return mix, fmt.Errorf("%q is not a tube and its parts", part)
		}
		p, err := d.tube(id)
		if err != nil {
			return mix, err
		}
		paints, shares = append(paints, *p), append(shares, share)
		sum += share
	}
	for i := range shares {
		shares[i] /= sum
	}
	film.Mix(&mix, paints, shares)
	return mix, nil
}
