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
// volumes: from pigment density and oil absorption (Gettens & Stout, Painting
// Materials, 1942, and for the lake from memory), the tube holding 1.3 times
// its oil absorption of oil at 0.93 g/ml (common practice, no source).
var oilDensity = map[string]float64{
	"ZincWhite": 3.0, "LeadWhite": 3.8, "BoneBlack": 1.44, "ViridianGreen": 1.53, "UltramarineBlue": 1.59,
	"CobaltBlue": 2.0, "PrussianBlue": 1.28, "Cochineal": 1.28, "Vermillion": 4.0, "ChromeYellow": 2.9,
}

// oilComponents are the paints fitted together; samples with others are left out.
var oilComponents = []string{
	"ZincWhite", "LeadWhite", "BoneBlack", "ViridianGreen", "UltramarineBlue",
	"CobaltBlue", "PrussianBlue", "Cochineal", "Vermillion", "ChromeYellow",
}

// oilSample is one weighed oil paint drawn down over a chart.
type oilSample struct {
	name    string
	volumes []float64                  // of oilComponents
	seen    map[string]colour.Spectrum // by backing, level beyond the bands read
	have    [colour.Bands]bool
}

const (
	paintOverWhite = "paint_over_white"
	paintOverBlack = "paint_over_black"
)

// bare is the chart below a film.
var bare = map[string]string{paintOverWhite: "chart_white_only", paintOverBlack: "chart_black_only"}

// readOilSamples are the samples made of oilComponents alone, in file order.
func readOilSamples(files fs.FS) ([]*oilSample, error) {
	volumes, err := readRecipes(files)
	if err != nil {
		return nil, err
	}
	lines, err := readTable(files, oilsFile)
	if err != nil {
		return nil, err
	}
	var samples []*oilSample
	byName := map[string]*oilSample{}
	for _, l := range lines {
		name := l.fields["sample"]
		if volumes[name] == nil {
			continue
		}
		s := byName[name]
		if s == nil {
			s = &oilSample{name: name, volumes: volumes[name], seen: map[string]colour.Spectrum{}}
			byName[name], samples = s, append(samples, s)
		}
		read, have, err := l.spectrum()
		if err != nil {
			return nil, err
		}
		s.seen[l.fields["backing"]], s.have = film.Level(read, &have), have
	}
	return samples, nil
}

// fitOils fits K and S of the weighed oil paints, all at once, from films over
// white and over black, per film. Thickness is unknown, one for each sample.
func fitOils(ctx context.Context, samples []*oilSample) (map[string]*film.Paint, error) {
	var readings []film.Reading
	for _, s := range samples {
		for _, over := range []string{paintOverWhite, paintOverBlack} {
			chart, ok := s.seen[bare[over]]
			if !ok {
				return nil, fmt.Errorf("%s has no %s of %s", oilsFile, bare[over], s.name)
			}
			readings = append(readings, film.Reading{
				Name: s.name + " " + over, Amounts: s.volumes, Backing: &chart, Film: s.name, Seen: s.seen[over], Have: s.have,
			})
		}
	}
	opt := film.DefaultFit()
	opt.Noise = 0.5
	fit, err := film.Fit(ctx, readings, len(oilComponents), opt)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", oilsFile, err)
	}
	paints := map[string]*film.Paint{}
	for i, name := range oilComponents {
		paints[name] = &fit.Paints[i].Paint
	}
	return paints, nil
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
