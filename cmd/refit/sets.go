package main

import (
	"context"
	"io/fs"
	"strconv"

	"fewtubes/gamut/film"
)

// The sources of paints, as derivations.csv and the tables name them.
const (
	berns   = "berns"
	okumura = "okumura"
	films   = "films"
	oils    = "oils"
	chart   = "chart"
)

// paper is how catalog/data/SOURCES.md and the tubes name a set.
var paper = map[string]string{berns: "Berns 2016", okumura: "Okumura 2005", films: "Levinson 2005", oils: "Geldof 2018", chart: "Deborah 2022"}

// published holds what the tables of readings give. All paints but those of the chart
// are on the catalogue's scale: its surface, S as a share of titanium white's in
// every band, and the strength of the acrylics.
type published struct {
	scale   film.Scale
	sets    map[string]map[string]*film.Paint // by set, then by the name the source gives
	films   []film.Reading                    // what the films were fitted to
	samples []*oilSample
}

// The names of titanium white in the two sets of acrylics.
const (
	bernsWhite   = "PW6"
	okumuraWhite = "titanium white"
)

// okumuraSurface is the one under which the K and S of that set hold. It was not
// published with them: k2 0.60 brings its strengths to those of the other set of the
// same laboratory, 0.65 and 0.50 do not (TestSurfaceOfOkumura).
var okumuraSurface = film.Surface{K1: 0.03, K2: 0.60}

func readPublished(ctx context.Context, files fs.FS) (*published, error) {
	p := &published{sets: map[string]map[string]*film.Paint{}, scale: film.Scale{Surface: film.Dry}}
	var err error
	if p.scale.WhiteMM, err = readWhitePerMM(files); err != nil {
		return nil, err
	}
	if p.sets[berns], err = readAcrylics(files, "berns2016_acrylic_ks.csv", "ci_name"); err != nil {
		return nil, err
	}
	raw, err := readAcrylics(files, "okumura2005_acrylic_ks.csv", "pigment")
	if err != nil {
		return nil, err
	}
	p.sets[okumura] = resurface(raw, okumuraWhite, okumuraSurface, p.scale.Surface)
	if p.films, err = filmReadings(files); err != nil {
		return nil, err
	}
	if p.sets[films], err = fitFilms(ctx, p.films); err != nil {
		return nil, err
	}
	if p.samples, err = readOilSamples(files); err != nil {
		return nil, err
	}
	fitted, err := fitOils(ctx, p.samples)
	if err != nil {
		return nil, err
	}
	if p.sets[oils], err = p.ontoScale(fitted); err != nil {
		return nil, err
	}
	p.sets[chart], err = readPatches(ctx, files)
	return p, err
}

// occurrence names the n-th series of one name: "name", "name#2", ...
func occurrence(name string, n int) string {
	if n == 1 {
		return name
	}
	return name + "#" + strconv.Itoa(n)
}
