package main

import (
	"context"
	"fmt"
	"io/fs"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

const (
	oilsFile    = "revigo2018_oil_reflectance.csv"
	recipesFile = "revigo2018_oil_recipes.csv"
)

// oilDensity is that of the paint, g/ml, to turn the weighed parts into
// volumes; from pigment densities and usual oil contents, from memory.
var oilDensity = map[string]float64{
	"ZincWhite": 2.3, "LeadWhite": 3.6, "BoneBlack": 1.3, "ViridianGreen": 1.5, "UltramarineBlue": 1.45,
	"CobaltBlue": 1.9, "PrussianBlue": 1.2, "Cochineal": 1.2, "Vermillion": 3.7, "ChromeYellow": 3.0,
}

// oilComponents are the paints fitted together; samples with others are left out.
var oilComponents = []string{
	"ZincWhite", "LeadWhite", "BoneBlack", "ViridianGreen", "UltramarineBlue",
	"CobaltBlue", "PrussianBlue", "Cochineal", "Vermillion", "ChromeYellow",
}

// readOils fits K and S of the weighed oil paints, all at once, from films over
// white and over black. Thickness is unknown, one for each sample.
func readOils(ctx context.Context, files fs.FS) (map[string]*film.Paint, *film.Fitted, error) {
	amounts, err := readRecipes(files)
	if err != nil {
		return nil, nil, err
	}
	lines, err := readTable(files, oilsFile)
	if err != nil {
		return nil, nil, err
	}
	bare := map[string]*colour.Spectrum{}
	var readings []film.Reading
	for _, l := range lines {
		s, have, err := l.spectrum()
		if err != nil {
			return nil, nil, err
		}
		for b := range s {
			if !have[b] {
				s[b] = s[nearest(&have, b)]
			}
		}
		sample, ground := l.fields["sample"], l.fields["backing"]
		switch ground {
		case "chart_white_only", "chart_black_only":
			bare[sample+ground] = &s
		default:
			if a := amounts[sample]; a != nil {
				readings = append(readings, film.Reading{Name: sample + " " + ground, Amounts: a, Film: sample, Seen: s, Have: have})
			}
		}
	}
	for i := range readings {
		r := &readings[i]
		on := map[string]string{"paint_over_white": "chart_white_only", "paint_over_black": "chart_black_only"}[r.Name[len(r.Film)+1:]]
		if r.Backing = bare[r.Film+on]; r.Backing == nil {
			return nil, nil, fmt.Errorf("%s has no %s of %s", oilsFile, on, r.Film)
		}
	}
	opt := film.DefaultFit()
	opt.Noise = 0.5
	fit, err := film.Fit(ctx, readings, len(oilComponents), opt)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", oilsFile, err)
	}
	paints := map[string]*film.Paint{}
	for i, name := range oilComponents {
		paints[name] = &fit.Paints[i].Paint
	}
	return paints, fit, nil
}

// readRecipes are the volumes of each component by sample, for the samples made
// of oilComponents alone.
func readRecipes(files fs.FS) (map[string][]float64, error) {
	lines, err := readTable(files, recipesFile)
	if err != nil {
		return nil, err
	}
	index := map[string]int{}
	for i, name := range oilComponents {
		index[name] = i
	}
	amounts := map[string][]float64{}
	strange := map[string]bool{}
	for _, l := range lines {
		sample, name := l.fields["sample"], l.fields["component"]
		i, known := index[name]
		if !known {
			strange[sample] = true
			continue
		}
		mass, err := l.value("mass_percent")
		if err != nil {
			return nil, err
		}
		if amounts[sample] == nil {
			amounts[sample] = make([]float64, len(oilComponents))
		}
		amounts[sample][i] = mass / oilDensity[name]
	}
	for sample := range strange {
		delete(amounts, sample)
	}
	return amounts, nil
}

// nearest is the band with a reading closest to b.
func nearest(have *[colour.Bands]bool, b int) int {
	for d := range colour.Bands {
		if b-d >= 0 && have[b-d] {
			return b - d
		}
		if b+d < colour.Bands && have[b+d] {
			return b + d
		}
	}
	return b
}
