package readings

import (
	"context"
	"slices"

	"fewtubes/gamut/film"
)

// Fitted is what the readings make of their tubes.
type Fitted struct {
	*film.Fitted
	// OwnFilms: every film of unknown thickness was given one of its own.
	OwnFilms bool
	// Shared and Own are what nine in ten of those films are missed by, in CIEDE2000,
	// with one thickness for all and with one for each; 0 where it was not tried.
	Shared, Own float64
}

// One thickness for all misfits where it misses a tenth of the films by more than
// misfit, and one for each fits clearly better where it misses them by less than
// better times that. Of weighed oils drawn down by machine one thickness misses by
// 3.2 and each by 2.5, and one foretells mixtures better; of acrylic films 10 to 37 um
// thick it is 2.1 and 0.6, and each foretells better (see the tests).
const (
	misfit = 1.5
	better = 0.5
)

// Fit is film.Fit with one thickness for all films whose thickness is not known,
// or one for each where the first misfits and the second is clearly better, or asked
// for by each.
func Fit(ctx context.Context, found []film.Reading, tubes int, opt film.FitOptions, each bool) (*Fitted, error) {
	own, several := OwnFilms(found)
	if each {
		fit, err := film.Fit(ctx, own, tubes, opt)
		return &Fitted{Fitted: fit, OwnFilms: true}, err
	}
	shared, err := film.Fit(ctx, found, tubes, opt)
	if err != nil || !several {
		return &Fitted{Fitted: shared}, err
	}
	out := &Fitted{Fitted: shared, Shared: missed(shared, found)}
	if out.Shared < misfit {
		return out, nil
	}
	opt.Start = shared
	fit, err := film.Fit(ctx, own, tubes, opt)
	if err != nil {
		return nil, err
	}
	if out.Own = missed(fit, found); out.Own < better*out.Shared {
		out.Fitted, out.OwnFilms = fit, true
	}
	return out, nil
}

// missed is what nine in ten of the films of unknown thickness lie within.
func missed(fit *film.Fitted, found []film.Reading) float64 {
	var des []float64
	for i := range found {
		if r := &found[i]; r.Backing != nil && r.Thickness == 0 {
			des = append(des, fit.Residuals[i].DE)
		}
	}
	slices.Sort(des)
	return des[len(des)*9/10]
}
