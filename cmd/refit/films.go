package main

import (
	"context"
	"fmt"
	"io/fs"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

const (
	filmsFile      = "lbnl2005_paint_film_rt.csv"
	filmsPerMMFile = "lbnl2005_paint_film_ks.csv"
	filmsWhite     = "W03"
)

// filmsOverWhite and filmsOverBlack are the reflectance factors of the two
// grounds, which were not published with the readings: a white between the
// lightest film over it (0.90) and the most a diffuse white reflects (0.97),
// where the fit hardly depends on it, and a black a little below the darkest
// transparent film over it (0.047).
const (
	filmsOverWhite = 0.93
	filmsOverBlack = 0.045
)

// filmCodes are the paint films fitted together: those with tints, and the
// titanium white the tints were made with.
var filmCodes = []string{filmsWhite, "B13", "R03", "R06", "R07", "R09", "U03", "U11", "U12", "U14", "Y01", "Y13"}

// whiteParts of each kind of film, to one of the paint.
var whiteParts = map[string]float64{"masstone": 0, "tint_1_4": 4, "tint_1_9": 9}

// filmReadings are the masstones and tints over white and over black.
func filmReadings(files fs.FS) ([]film.Reading, error) {
	lines, err := readTable(files, filmsFile)
	if err != nil {
		return nil, err
	}
	white, black := colour.Flat(filmsOverWhite), colour.Flat(filmsOverBlack)
	backings := map[string]*colour.Spectrum{"R_over_white": &white, "R_over_black": &black}
	var readings []film.Reading
	for _, l := range lines {
		paint := slices.Index(filmCodes, l.fields["lbnl_code"])
		backing := backings[l.fields["quantity"]]
		if paint < 0 || backing == nil {
			continue
		}
		r := film.Reading{Name: l.fields["sample"] + " " + l.fields["quantity"], Backing: backing, Amounts: make([]float64, len(filmCodes))}
		r.Amounts[paint] = 1
		r.Amounts[0] += whiteParts[l.fields["kind"]]
		if r.Thickness, err = l.value("film_um"); err != nil {
			return nil, err
		}
		if r.Seen, r.Have, err = l.spectrum(); err != nil {
			return nil, err
		}
		readings = append(readings, r)
	}
	return readings, nil
}

// fitFilms fits K and S of the paint films of known thickness, all at once,
// their titanium white scattering 1.
func fitFilms(ctx context.Context, readings []film.Reading) (map[string]*film.Paint, error) {
	opt := film.DefaultFit()
	opt.Noise = 0.5
	opt.Anchor = 0
	fit, err := film.Fit(ctx, readings, len(filmCodes), opt)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filmsFile, err)
	}
	paints := map[string]*film.Paint{}
	for i, code := range filmCodes {
		paints[code] = &fit.Paints[i].Paint
	}
	return paints, nil
}

// readWhitePerMM is the published S of the films' titanium white per millimetre, held
// level where it was not plotted. Published values, since they rest on the
// light let through, too, which tells more of a white than light sent back.
func readWhitePerMM(files fs.FS) (s [colour.Bands]float64, err error) {
	lines, err := readTable(files, filmsPerMMFile)
	if err != nil {
		return s, err
	}
	for _, l := range lines {
		if l.fields["lbnl_code"] == filmsWhite && l.fields["quantity"] == "S_per_mm" {
			read, have, err := l.spectrum()
			return film.Level(read, &have), err
		}
	}
	return s, fmt.Errorf("%s has no S of %s", filmsPerMMFile, filmsWhite)
}
