package main

import (
	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"

	"github.com/urfave/cli/v2"
)

// Parts of a mixture that is asked for or worth painting, the first tube against white or
// against another.
var (
	tintSteps = []float64{4, 9, 20}
	pairTrial = [][2]float64{{3, 1}, {1, 1}, {1, 3}}
)

// commonMixtures are tints and pairs of some tubes, and where alone is asked each tube alone.
func commonMixtures(tubes []catalog.Tube, alone bool) *mixtures {
	m := &mixtures{what: "mixtures of these tubes", tubes: tubes}
	add := func(i, j int, a, b float64) {
		amounts := make([]float64, len(tubes))
		amounts[i] += a
		amounts[j] += b
		m.list = append(m.list, film.Mixture{Amounts: amounts})
	}
	white := catalog.WhiteOf(tubes)
	for i := range tubes {
		if alone {
			add(i, i, 1, 0)
		}
		if tubes[i].IsWhite() {
			continue
		}
		if white >= 0 {
			for _, parts := range tintSteps {
				add(i, white, 1, parts)
			}
		}
		for j := i + 1; j < len(tubes); j++ {
			if tubes[j].IsWhite() {
				continue
			}
			for _, p := range pairTrial {
				add(i, j, p[0], p[1])
			}
		}
	}
	return m
}

// sceneMixtures are the nearest mixes of some tubes to the colours of a scene.
func sceneMixtures(s *scene.Scene, tubes []catalog.Tube, all *catalog.Catalogue) (*mixtures, error) {
	light, err := colour.ParseLight(s.Light)
	if err != nil {
		return nil, err
	}
	paints := make([]film.Paint, len(tubes))
	for i := range tubes {
		paints[i] = tubes[i].Paint
	}
	mixer, err := gamut.NewMixer(paints, gamut.Options{Surface: all.Surface(s.Surface), Light: light, PaintsPerMix: s.Limits.PaintsPerMix})
	if err != nil {
		return nil, err
	}
	m := &mixtures{what: "recipes for " + s.Title, tubes: tubes}
	if s.Title == "" {
		m.what = "recipes for the scene"
	}
	for _, t := range s.Targets {
		mix := mixer.Closest(t.Lab, set.Full(len(tubes)), gamut.Search)
		amounts := make([]float64, len(tubes))
		for k, p := range mix.Paints {
			amounts[p] = mix.Shares[k]
		}
		m.list = append(m.list, film.Mixture{Amounts: amounts})
	}
	return m, nil
}

// askedFor are the mixtures of some tubes that matter: those of --scene, or common ones.
func askedFor(c *cli.Context, tubes []catalog.Tube, all *catalog.Catalogue) (*mixtures, error) {
	path := c.String("scene")
	if path == "" {
		return commonMixtures(tubes, false), nil
	}
	s, err := scene.Read(path)
	if err != nil {
		return nil, err
	}
	for i, t := range tubes {
		if now, ok := all.Find(t.ID); ok {
			tubes[i] = now
		}
	}
	return sceneMixtures(&s, tubes, all)
}
