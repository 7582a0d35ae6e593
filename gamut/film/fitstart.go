package film

import (
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// readBands normalises the amounts and finds the bands each paint was read in.
func (f *fitter) readBands() {
	f.covered = make([][2]int, f.paints)
	for p := range f.covered {
		f.covered[p] = [2]int{colour.Bands, -1}
	}
	for i := range f.readings {
		r := &f.readings[i]
		sum := 0.0
		for _, a := range r.Amounts {
			sum += a
		}
		share := make([]float64, f.paints)
		var backing [colour.Bands]float64
		for p, a := range r.Amounts {
			share[p] = a / sum
		}
		for b, have := range r.Have {
			if r.Backing != nil {
				backing[b] = min(max(f.opt.Surface.Inside(r.Backing[b]), 0), 1)
			}
			if !have {
				continue
			}
			f.from, f.to = min(f.from, b), max(f.to, b+1)
			for p, a := range share {
				if a > 0 {
					f.covered[p][0], f.covered[p][1] = min(f.covered[p][0], b), max(f.covered[p][1], b)
				}
			}
		}
		weight := r.Weight
		if weight == 0 {
			weight = 1
		}
		f.weight = append(f.weight, weight)
		f.amounts, f.inside = append(f.amounts, share), append(f.inside, backing)
	}
}

// readFilms gives each reading its thickness, on the scale where the middle one
// of the known is middlingFilm, and each unknown one a name.
func (f *fitter) readFilms() {
	unit := f.lengthUnit()
	byName := map[string]int{}
	for i := range f.readings {
		r := &f.readings[i]
		film, x := -1, 0.0
		switch {
		case r.Backing == nil:
		case r.Thickness > 0:
			x = r.Thickness / unit
		default:
			x = middlingFilm
			k, ok := byName[r.Film]
			if !ok {
				k = len(f.films)
				byName[r.Film] = k
				f.films = append(f.films, r.Film)
			}
			film = k
		}
		f.film, f.unit = append(f.film, film), append(f.unit, x)
	}
}

// lengthUnit is the length that makes the geometric mean of the known
// thicknesses middlingFilm.
func (f *fitter) lengthUnit() float64 {
	sum, n := 0.0, 0
	for i := range f.readings {
		if r := &f.readings[i]; r.Backing != nil && r.Thickness > 0 {
			sum += portable.Log(r.Thickness)
			n++
		}
	}
	if n == 0 {
		return 1
	}
	return portable.Exp(sum/float64(n)) / middlingFilm
}

// start guesses K/S of each paint from the reading richest in it as if it were
// opaque and alone, S as the prior has it.
func (f *fitter) start() {
	f.x = make([]float64, f.bandUnknowns()+len(f.films))
	for p := range f.paints {
		best := 0
		for i := range f.readings {
			if f.amounts[i][p] > f.amounts[best][p] {
				best = i
			}
		}
		s := priorLogS
		if p == f.opt.Anchor {
			s = 0
		}
		for b := f.from; b < f.to; b++ {
			near := nearestBand(&f.readings[best].Have, b)
			r := min(max(f.opt.Surface.Inside(f.readings[best].Seen[near]), 0.01), 0.99)
			f.x[f.logS(p, b)] = s
			f.x[f.logK(p, b)] = s + portable.Log(Ratio(r))
		}
	}
	f.startFrom(f.opt.Start)
}

// startFrom takes over the unknowns of an earlier fit of the same shape.
func (f *fitter) startFrom(old *Fitted) {
	n := f.bandUnknowns()
	if old == nil || len(old.x)-len(old.films) != n {
		return
	}
	copy(f.x[:n], old.x)
	for k, name := range f.films {
		if i := slices.Index(old.films, name); i >= 0 {
			f.x[n+k] = old.x[n+i]
		}
	}
}

// nearestBand is the measured band closest to b, the lower one on a tie.
func nearestBand(have *[colour.Bands]bool, b int) int {
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

// Level holds the bands a reading lacks level with the nearest it has.
func Level(s colour.Spectrum, have *[colour.Bands]bool) colour.Spectrum {
	out := s
	for b := range s {
		out[b] = s[nearestBand(have, b)]
	}
	return out
}
