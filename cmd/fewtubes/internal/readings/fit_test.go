package readings

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/figures"
	"fewtubes/gamut/film"
)

// sharedFile is one of the published tables; the test is skipped where it is not.
func sharedFile(t *testing.T, name string) string {
	t.Helper()
	dir := os.Getenv("FEWTUBES_SHARED")
	if dir == "" {
		dir = filepath.Join("..", "..", "..", "..", "..", "shared")
	}
	path := filepath.Join(dir, "data", name)
	if _, err := os.Stat(path); err != nil {
		t.Skip("the published readings are not here")
	}
	return path
}

func spectrumOf(t *testing.T, row map[string]string) (s colour.Spectrum, have [colour.Bands]bool) {
	t.Helper()
	for b := range s {
		if field := row[strconv.Itoa(colour.StartNM+b*colour.StepNM)]; field != "" {
			s[b], have[b] = figures.Number(t, field), true
		}
	}
	return s, have
}

// acrylicFilms are masstones and tints in titanium white of twelve paints over white
// and black, 10 to 37 um thick, which is not told: R. Levinson, P. Berdahl, H. Akbari,
// Sol. Energy Mater. Sol. Cells 89, 2005. The grounds were not published.
func acrylicFilms(t *testing.T) (codes, kinds []string, found []film.Reading) {
	grounds := map[string]*colour.Spectrum{}
	for name, v := range map[string]float64{"R_over_white": 0.93, "R_over_black": 0.045} {
		s := colour.Flat(v)
		grounds[name] = &s
	}
	codes = strings.Fields("W03 B13 R03 R06 R07 R09 U03 U11 U12 U14 Y01 Y13")
	white := map[string]float64{"masstone": 0, "tint_1_4": 4, "tint_1_9": 9}
	for _, row := range figures.Named(t, sharedFile(t, "lbnl2005_paint_film_rt.csv")) {
		paint, ground := slices.Index(codes, row["lbnl_code"]), grounds[row["quantity"]]
		if paint < 0 || ground == nil {
			continue
		}
		r := film.Reading{Name: row["sample"], Amounts: make([]float64, len(codes)), Backing: ground}
		r.Amounts[paint] = 1
		r.Amounts[0] += white[row["kind"]]
		r.Seen, r.Have = spectrumOf(t, row)
		found, kinds = append(found, r), append(kinds, row["kind"])
	}
	return codes, kinds, found
}

// Where the films differ threefold in thickness the default finds that out; each tint
// foretold from the masstones and the other tints, as thick as its paint's other
// tint, is then nearer than with one thickness for all. The published mixtures of
// paint with paint are not among the readings at hand.
func TestThicknessesOfPublishedFilms(t *testing.T) {
	codes, kinds, all := acrylicFilms(t)
	opt := film.DefaultFit()
	opt.Quick = true
	medians := map[bool][]float64{}
	for held, other := range map[string]string{"tint_1_4": "tint_1_9", "tint_1_9": "tint_1_4"} {
		var known []film.Reading
		for i, r := range all {
			if kinds[i] != held {
				known = append(known, r)
			}
		}
		shared, err := film.Fit(context.Background(), known, len(codes), opt)
		if err != nil {
			t.Fatal(err)
		}
		chosen, err := Fit(context.Background(), known, len(codes), opt, false)
		if err != nil {
			t.Fatal(err)
		}
		if !chosen.OwnFilms {
			t.Errorf("without %s: one thickness for all misses by %.1f, one for each by %.1f, and each was not given its own", held, chosen.Shared, chosen.Own)
		}
		for _, fit := range []*film.Fitted{shared, chosen.Fitted} {
			own := fit == chosen.Fitted
			var des []float64
			for i, r := range all {
				if kinds[i] != held {
					continue
				}
				thick := fit.Thickness[""]
				if own {
					like := slices.Index(kinds, other)
					for all[like].Amounts[paintOf(r.Amounts)] == 0 || kinds[like] != other {
						like++
					}
					thick = fit.Thickness[mixture(all[like].Amounts)]
				}
				des = append(des, foretold(fit, &r, thick))
			}
			slices.Sort(des)
			medians[own] = append(medians[own], des[len(des)/2])
			t.Logf("%s foretold, thickness of each film %t: median %.2f, tenth %.2f", held, own, des[len(des)/2], des[len(des)*9/10])
		}
	}
	for i, m := range medians[true] {
		if m > 1 || m > medians[false][i] {
			t.Errorf("tints are foretold to %.2f in the median, with one thickness for all to %.2f", m, medians[false][i])
		}
	}
}

// paintOf is the coloured paint of a tint.
func paintOf(amounts []float64) int {
	for i := len(amounts) - 1; i > 0; i-- {
		if amounts[i] > 0 {
			return i
		}
	}
	return 0
}

// foretold is how far a reading lies from what a fit made without it says, CIEDE2000.
func foretold(fit *film.Fitted, r *film.Reading, thick float64) float64 {
	var mix film.Paint
	sum := 0.0
	for _, a := range r.Amounts {
		sum += a
	}
	for p, a := range r.Amounts {
		for b := range mix.K {
			mix.K[b] += a / sum * fit.Paints[p].K[b]
			mix.S[b] += a / sum * fit.Paints[p].S[b]
		}
	}
	var seen colour.Spectrum
	for b := range seen {
		seen[b] = film.Dry.Seen(film.Over(mix.K[b], mix.S[b], thick, film.Dry.Inside(r.Backing[b])))
	}
	return colour.DE2000(colour.D65().Lab(&seen), colour.D65().Lab(&r.Seen))
}

// Weighed oils drawn down by machine keep one thickness: a thickness for each film
// fits a little better and foretells worse (see gamut/film/FITTING.md). M. Geldof et al.,
// Heritage Science 6:17, 2018 (CC0).
func TestOilsShareOneThickness(t *testing.T) {
	volumes := map[string]map[string]float64{}
	// g/ml, as in cmd/refit/oils.go.
	density := map[string]float64{"ZincWhite": 3.0, "BoneBlack": 1.44, "ViridianGreen": 1.53, "UltramarineBlue": 1.59, "CobaltBlue": 2.0, "Vermillion": 4.0, "LeadWhite": 3.8}
	for _, row := range figures.Named(t, sharedFile(t, "revigo2018_oil_recipes.csv")) {
		if volumes[row["sample"]] == nil {
			volumes[row["sample"]] = map[string]float64{}
		}
		volumes[row["sample"]][row["component"]] = figures.Number(t, row["mass_percent"]) / density[row["component"]]
	}
	names := []string{"BoneBlack", "CobaltBlue", "LeadWhite", "UltramarineBlue", "Vermillion", "ViridianGreen", "ZincWhite"}
	var found []film.Reading
	grounds := map[string]*colour.Spectrum{}
	rows := figures.Named(t, sharedFile(t, "revigo2018_oil_reflectance.csv"))
	for _, row := range rows {
		s, have := spectrumOf(t, row)
		s = film.Level(s, &have)
		grounds[row["sample"]+row["backing"]] = &s
	}
	for _, row := range rows {
		on, ok := strings.CutPrefix(row["backing"], "paint_over_")
		r := film.Reading{Name: row["sample"], Amounts: make([]float64, len(names)), Backing: grounds[row["sample"]+"chart_"+on+"_only"]}
		for component, v := range volumes[row["sample"]] {
			i := slices.Index(names, component)
			ok = ok && i >= 0
			if i >= 0 {
				r.Amounts[i] = v
			}
		}
		if ok {
			r.Seen, r.Have = spectrumOf(t, row)
			found = append(found, r)
		}
	}
	opt := film.DefaultFit()
	opt.Quick = true
	fit, err := Fit(context.Background(), found, len(names), opt, false)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%d readings: one thickness misses by %.1f, one for each by %.1f", len(found), fit.Shared, fit.Own)
	if fit.OwnFilms {
		t.Errorf("one thickness misses by %.1f, one for each by %.1f, and each was given its own", fit.Shared, fit.Own)
	}
}
