package film

import (
	"context"
	"errors"
	"math"
	"slices"

	"fewtubes/gamut/colour"
)

// middlingFilm is S times thickness of a typical film at the start of a fit.
const middlingFilm = 5.0

// How far log K and log S may stray from a middling paint before it costs, as
// standard deviations, and how firmly an anchor or an unread band is held.
const (
	priorLogK, priorLogS       = -1.2, -1.2
	priorSpreadK, priorSpreadS = 3.0, 2.5
	held                       = 1e-3
	anchorNearly               = 0.5 // where films fix the shape of its S
)

// fitter holds one fit: unknowns are log K and log S by band, then the
// logarithms of unknown thicknesses against their common middle.
type fitter struct {
	readings []Reading
	amounts  [][]float64 // normalised
	inside   [][colour.Bands]float64
	opt      FitOptions
	paints   int
	from, to int // bands fitted, to exclusive
	films    []string
	film     []int     // of each reading: index into films, or -1
	unit     []float64 // of each reading: thickness before its unknown factor; 0 opaque
	covered  [][2]int  // of each paint: first and last band read
	x        []float64
	weight   []float64 // of each reading
	rounds   int
}

func newFitter(readings []Reading, paints int, opt FitOptions) *fitter {
	f := &fitter{readings: readings, paints: paints, opt: opt, from: colour.Bands}
	f.readBands()
	f.readFilms()
	f.start()
	return f
}

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
			sum += math.Log(r.Thickness)
			n++
		}
	}
	if n == 0 {
		return 1
	}
	return math.Exp(sum/float64(n)) / middlingFilm
}

func (f *fitter) opaqueOnly() bool {
	for _, x := range f.unit {
		if x > 0 {
			return false
		}
	}
	return true
}

func (f *fitter) bandUnknowns() int { return (f.to - f.from) * 2 * f.paints }

func (f *fitter) logK(p, b int) int { return (b-f.from)*2*f.paints + 2*p }
func (f *fitter) logS(p, b int) int { return f.logK(p, b) + 1 }

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
			f.x[f.logK(p, b)] = s + math.Log(Ratio(r))
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

const (
	maxRounds = 200
	settled   = 1e-6 // relative fall of the sum of squares that ends the fit
)

// discountOutliers repeats the fit with weights 1 / (1 + (miss/outlier)^2), so
// that one misweighed patch does not bend its paints (iteratively reweighted
// least squares with Cauchy's weight, Holland & Welsch, Comm. Stat. A6:813, 1977).
func (f *fitter) discountOutliers(ctx context.Context) error {
	given := slices.Clone(f.weight)
	const passes, alike = 3, 0.05
	for range passes {
		change := 0.0
		for i, r := range f.residuals() {
			miss := r.DE / f.opt.Outlier
			weight := given[i] / (1 + miss*miss)
			change = max(change, math.Abs(weight-f.weight[i])/given[i])
			f.weight[i] = weight
		}
		if change < alike {
			return nil
		}
		if err := f.solve(ctx); err != nil {
			return err
		}
	}
	return nil
}

// solve runs Levenberg-Marquardt (Marquardt, J. SIAM 11:431, 1963).
func (f *fitter) solve(ctx context.Context) error {
	sys := newNormal(f.bandUnknowns(), 4*f.paints, len(f.films))
	trial := make([]float64, len(f.x))
	damping := 1e-2
	cost := f.assemble(f.x, sys)
	for range maxRounds {
		f.rounds++
		if err := ctx.Err(); err != nil {
			return err
		}
		step, ok := sys.solve(damping)
		if !ok {
			if damping *= 10; damping > 1e12 {
				return errors.New("film: the normal equations are singular")
			}
			continue
		}
		for i, d := range step {
			trial[i] = f.bounded(i, f.x[i]-min(max(d, -1.5), 1.5))
		}
		next := f.assemble(trial, nil)
		if !(next < cost) {
			if damping *= 8; damping > 1e12 {
				return nil // no direction falls: a minimum to the last digit
			}
			continue
		}
		fall := (cost - next) / cost
		copy(f.x, trial)
		cost = f.assemble(f.x, sys)
		if damping = max(damping/6, 1e-9); fall < settled {
			return nil
		}
	}
	return nil
}

// bounded keeps an unknown within the floors and ceilings.
func (f *fitter) bounded(i int, v float64) float64 {
	switch {
	case i >= f.bandUnknowns():
		return min(max(v, -4), 4)
	case i%2 == 0:
		return min(max(v, math.Log(FloorK)), math.Log(CeilK))
	}
	return min(max(v, math.Log(FloorS)), math.Log(CeilS))
}

// assemble is the sum of squares at x; into sys, when given, go its normal
// equations.
func (f *fitter) assemble(x []float64, sys *normal) float64 {
	if sys != nil {
		sys.clear()
	}
	cost := 0.0
	for i := range f.readings {
		cost += f.addReading(i, x, sys)
	}
	return cost + f.addPriors(x, sys)
}

// addReading adds the L* residuals of one reading.
func (f *fitter) addReading(i int, x []float64, sys *normal) float64 {
	r := &f.readings[i]
	weight := math.Sqrt(f.weight[i]) / f.opt.Noise
	index := make([]int, 0, 2*f.paints+1)
	slope := make([]float64, 0, 2*f.paints+1)
	cost := 0.0
	for b := f.from; b < f.to; b++ {
		if !r.Have[b] {
			continue
		}
		l, k, s := f.layer(i, b, x)
		seen := f.opt.Surface.Seen(l.r)
		res := weight * (lightness(seen) - lightness(r.Seen[b]))
		cost += res * res
		if sys == nil {
			continue
		}
		chain := weight * lightnessSlope(seen) * f.opt.Surface.slope(l.r)
		index, slope = index[:0], slope[:0]
		for p, a := range f.amounts[i] {
			if a > 0 {
				index = append(index, f.logK(p, b), f.logS(p, b))
				slope = append(slope, chain*l.dK*a*k[p], chain*l.dS*a*s[p])
			}
		}
		if f.film[i] >= 0 {
			index = append(index, f.bandUnknowns()+f.film[i])
			slope = append(slope, chain*l.dLogX)
		}
		sys.add(index, slope, res)
	}
	return cost
}

// layer is the film of reading i in band b, with K and S of each paint there.
func (f *fitter) layer(i, b int, x []float64) (l layer, ks, ss []float64) {
	ks, ss = make([]float64, f.paints), make([]float64, f.paints)
	k, s := 0.0, 0.0
	for p, a := range f.amounts[i] {
		if a > 0 {
			ks[p], ss[p] = math.Exp(x[f.logK(p, b)]), math.Exp(x[f.logS(p, b)])
			k += a * ks[p]
			s += a * ss[p]
		}
	}
	if f.unit[i] == 0 {
		return opaqueLayer(k, s), ks, ss
	}
	thick := f.unit[i]
	if f.film[i] >= 0 {
		thick *= math.Exp(x[f.bandUnknowns()+f.film[i]])
	}
	return overLayer(k, s, thick, f.inside[i][b]), ks, ss
}

// addPriors adds smoothness, the weak pull towards a middling paint, the
// anchor and the common middle of the thicknesses.
func (f *fitter) addPriors(x []float64, sys *normal) float64 {
	cost := 0.0
	row := func(res float64, index []int, slope []float64) {
		cost += res * res
		if sys != nil {
			sys.add(index, slope, res)
		}
	}
	anchor := anchorNearly
	if f.opaqueOnly() {
		anchor = held
	}
	for p := range f.paints {
		for b := f.from; b < f.to; b++ {
			k, s := f.logK(p, b), f.logS(p, b)
			row((x[k]-priorLogK)/priorSpreadK, []int{k}, []float64{1 / priorSpreadK})
			if p == f.opt.Anchor {
				row(x[s]/anchor, []int{s}, []float64{1 / anchor})
			} else {
				row((x[s]-priorLogS)/priorSpreadS, []int{s}, []float64{1 / priorSpreadS})
			}
			f.addSmoothness(p, b, x, row)
		}
	}
	for k := range f.films {
		i := f.bandUnknowns() + k
		row(x[i]/f.opt.Spread, []int{i}, []float64{1 / f.opt.Spread})
	}
	return cost
}

// addSmoothness joins band b of paint p to the two before it; where the paint
// was not read, to the one before it alone, and firmly.
func (f *fitter) addSmoothness(p, b int, x []float64, row func(float64, []int, []float64)) {
	first, last := f.covered[p][0], f.covered[p][1]
	for _, at := range []func(int, int) int{f.logK, f.logS} {
		switch {
		case b == f.from:
		case b > last || b <= first:
			i, j := at(p, b-1), at(p, b)
			row((x[j]-x[i])/held, []int{i, j}, []float64{-1 / held, 1 / held})
		case b >= first+2:
			h, i, j := at(p, b-2), at(p, b-1), at(p, b)
			w := 1 / f.opt.Smoothness
			row((x[h]-2*x[i]+x[j])*w, []int{h, i, j}, []float64{w, -2 * w, w})
		}
	}
}

// lightness is L* of a neutral with this reflectance factor (CIE 015), a scale
// on which equal steps look about equal.
func lightness(r float64) float64 {
	return colour.XYZ{X: r, Y: r, Z: r}.Lab(colour.XYZ{X: 1, Y: 1, Z: 1}).L
}

func lightnessSlope(r float64) float64 {
	const kappa, epsilon = 24389.0 / 27, 216.0 / 24389
	if r <= epsilon {
		return kappa
	}
	return 116 / 3.0 / math.Cbrt(r*r)
}

// Level holds the bands a reading lacks level with the nearest it has.
func Level(s colour.Spectrum, have *[colour.Bands]bool) colour.Spectrum {
	out := s
	for b := range s {
		out[b] = s[nearestBand(have, b)]
	}
	return out
}
