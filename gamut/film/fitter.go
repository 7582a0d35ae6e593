package film

import (
	"context"
	"errors"
	"math"
	"slices"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
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
			weight := given[i] / (1 + float64(miss*miss))
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
		return min(max(v, portable.Log(FloorK)), portable.Log(CeilK))
	}
	return min(max(v, portable.Log(FloorS)), portable.Log(CeilS))
}
