package main

import (
	"context"
	"fmt"
	"io/fs"
	"slices"
	"strconv"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

const chartFile = "deborah2022_pigment_chart_reflectance.csv"

// grounds are the reflectance factors, flat over wavelength, of the four
// grounds, shade 1 to 4, that one film of each pigment was painted over. They
// were not published: they make the two unknowns of a film, K and S times
// thickness, agree with all four shades of all pigments (rms 0.006), the
// darkest being as light as films that hardly scatter allow and the white being
// the paper of the lightest patches. See SOURCES.md.
var grounds = [4]float64{0.10, 0.229, 0.477, 0.90}

// readPatches fits K and S of every chart patch, thickness 1, from its four
// shades. Series of one name are told apart by occurrence.
func readPatches(ctx context.Context, files fs.FS) (map[string]*film.Paint, error) {
	lines, err := readTable(files, chartFile)
	if err != nil {
		return nil, err
	}
	series := map[string][]film.Reading{}
	met := map[string]int{}
	for _, l := range lines {
		name := l.fields["pigment"]
		if l.fields["shade"] == "1" {
			met[name]++
		}
		r, err := patchReading(l)
		if err != nil {
			return nil, err
		}
		key := occurrence(name, met[name])
		series[key] = append(series[key], r)
	}
	patches := map[string]*film.Paint{}
	for name, readings := range series {
		opt := film.DefaultFit()
		opt.Noise = 0.5
		lightGrounds(readings)
		fit, err := film.Fit(ctx, readings, 1, opt)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		patches[name] = &fit.Paints[0].Paint
	}
	return patches, nil
}

func patchReading(l line) (film.Reading, error) {
	shade, err := strconv.Atoi(l.fields["shade"])
	if err != nil || shade < 1 || shade > len(grounds) {
		return film.Reading{}, fmt.Errorf("%s:%d: shade %q", l.file, l.number, l.fields["shade"])
	}
	seen, have, err := l.spectrum()
	ground := colour.Flat(grounds[shade-1])
	return film.Reading{
		Name: l.fields["pigment"] + " " + l.fields["shade"], Amounts: []float64{1},
		Backing: &ground, Thickness: 1, Seen: seen, Have: have,
	}, err
}

// clearBands is how many bands of a patch must let the white ground through for
// it to be read off the patch, and clear how light they must be.
const (
	clearBands = 8
	clear      = 0.80
)

// lightGrounds scales the grounds of a patch to its own white where its film is
// clear: a film that hardly absorbs shows the white below it.
func lightGrounds(readings []film.Reading) {
	white := &readings[len(readings)-1]
	top := slices.Clone(white.Seen[:])
	slices.Sort(top)
	sum := 0.0
	for _, v := range top[len(top)-clearBands:] {
		sum += float64(v / clearBands)
	}
	if sum < clear {
		return
	}
	by := sum / white.Backing[0]
	for i := range readings {
		ground := colour.Flat(readings[i].Backing[0] * by)
		readings[i].Backing = &ground
	}
}
