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
	filmsFile   = "lbnl2005_paint_film_rt.csv"
	filmsKSFile = "lbnl2005_paint_film_ks.csv"
	filmsWhite  = "W03"
)

// filmCodes are the paint films fitted together: those with tints, and the
// titanium white the tints were made with.
var filmCodes = []string{filmsWhite, "B13", "R03", "R06", "R07", "R09", "U03", "U11", "U12", "U14", "Y01", "Y13"}

// whiteParts of each kind of film, to one of the paint.
var whiteParts = map[string]float64{"masstone": 0, "tint_1_4": 4, "tint_1_9": 9}

// readFilms fits K and S of the paint films of known thickness, all at once,
// from their masstones and tints over white and over black.
func readFilms(ctx context.Context, files fs.FS) (map[string]*film.Paint, *film.Fitted, error) {
	lines, err := readTable(files, filmsFile)
	if err != nil {
		return nil, nil, err
	}
	backings, err := readBackings(files, lines)
	if err != nil {
		return nil, nil, err
	}
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
			return nil, nil, err
		}
		if r.Seen, r.Have, err = l.spectrum(); err != nil {
			return nil, nil, err
		}
		readings = append(readings, r)
	}
	opt := film.DefaultFit()
	opt.Noise = 0.5
	opt.Anchor = 0
	fit, err := film.Fit(ctx, readings, len(filmCodes), opt)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", filmsFile, err)
	}
	paints := map[string]*film.Paint{}
	for i, code := range filmCodes {
		paints[code] = &fit.Paints[i].Paint
	}
	return paints, fit, nil
}

// readBackings infers the white and the black ground, which were not published,
// from the masstone films whose K and S were: per band the median of what each
// film implies.
func readBackings(files fs.FS, lines []line) (map[string]*colour.Spectrum, error) {
	published, err := publishedFilms(files)
	if err != nil {
		return nil, err
	}
	backings := map[string]*colour.Spectrum{}
	for _, quantity := range []string{"R_over_white", "R_over_black"} {
		var implied [colour.Bands][]float64
		for _, l := range lines {
			p := published[l.fields["sample"]]
			if l.fields["quantity"] != quantity || p == nil {
				continue
			}
			x, err := l.value("film_um")
			if err != nil {
				return nil, err
			}
			seen, have, err := l.spectrum()
			if err != nil {
				return nil, err
			}
			for b := range seen {
				if have[b] {
					implied[b] = appendGround(implied[b], p.K[b], p.S[b], x/1000, film.Dry.Inside(seen[b]))
				}
			}
		}
		backing := &colour.Spectrum{}
		var known [colour.Bands]bool
		for b, v := range implied {
			if known[b] = len(v) > 0; known[b] {
				slices.Sort(v)
				backing[b] = film.Dry.Seen(min(max(v[len(v)/2], 0), 0.99))
			}
		}
		for b := range backing {
			backing[b] = backing[nearest(&known, b)]
		}
		backings[quantity] = backing
	}
	return backings, nil
}

// appendGround adds the internal reflectance of the ground below a film that is
// thin enough to show it (Kubelka 1948, solved for the ground).
func appendGround(to []float64, k, s, x, r float64) []float64 {
	if k == 0 {
		return to
	}
	s = max(s, leastS)
	over := func(g float64) float64 { return film.Over(k, s, x, g) }
	r0 := over(0)
	if over(1)-r0 < 0.1 {
		return to
	}
	// r = r0 + t g / (1 - r0 g), t from the film over a half-bright ground
	t := (over(0.5) - r0) * (1 - 0.5*r0) / 0.5
	return append(to, (r-r0)/(t+r0*(r-r0)))
}

// leastS, per mm, stands where S was below the published window.
const leastS = 1

// publishedFilms are the K and S, per mm, of the masstone films; bands that
// were not published stay 0.
func publishedFilms(files fs.FS) (map[string]*film.Paint, error) {
	lines, err := readTable(files, filmsKSFile)
	if err != nil {
		return nil, err
	}
	paints := map[string]*film.Paint{}
	for _, l := range lines {
		if l.fields["kind"] != "masstone" {
			continue
		}
		s, _, err := l.spectrum()
		if err != nil {
			return nil, err
		}
		p := paints[l.fields["sample"]]
		if p == nil {
			p = &film.Paint{}
			paints[l.fields["sample"]] = p
		}
		if l.fields["quantity"] == "K_per_mm" {
			p.K = s
		} else {
			p.S = s
		}
	}
	return paints, nil
}
