package film

import (
	"context"
	"errors"
	"fmt"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film/doubt"
)

// Reading is one measured patch of known recipe.
type Reading struct {
	Name      string
	Amounts   []float64          // volume of each paint, >= 0, any scale; they are normalised to sum 1
	Backing   *colour.Spectrum   // reflectance factor of the bare ground as seen; nil: the film is opaque
	Thickness float64            // of a film over a backing, any unit common to all readings; 0: unknown
	Film      string             // films of unknown thickness that share it share this name; "": one common film
	Seen      colour.Spectrum    // reflectance factor through the surface
	Have      [colour.Bands]bool // the bands that were measured
	Weight    float64            // of this reading against the others; 0 is read as 1
}

// NoAnchor leaves the scale of K and S to the thicknesses.
const NoAnchor = -1

// FitOptions steer Fit. The zero value is not useful: start from DefaultFit.
type FitOptions struct {
	Surface Surface
	// Anchor is the paint whose S is 1 in every band, titanium white in the
	// catalogue; NoAnchor where films have known thickness. Opaque readings
	// alone say nothing about the common scale of a band, so they need one.
	Anchor int
	// Smoothness is the expected second difference of log K and log S from band
	// to band (standard deviation); larger is looser.
	Smoothness float64
	// Spread is the expected scatter (standard deviation of the logarithm) of
	// unknown thicknesses about their common middle.
	Spread float64
	// Noise is the expected error of a reading in L* units per band.
	Noise float64
	// Outlier is the CIEDE2000 miss at which a reading counts half; the fit is
	// repeated with such weights. 0: every reading counts in full.
	Outlier float64
	Light   *colour.Light // for the residuals; D65 when nil
	Start   *Fitted       // of nearly the same readings and the same paints, to begin from; may be nil
	Quick   bool          // leaves out the errors of K and S, which cost as much as the fit
}

// DefaultFit is what the catalogue was fitted with, but for the anchor.
func DefaultFit() FitOptions {
	return FitOptions{Surface: Dry, Anchor: NoAnchor, Smoothness: 0.5, Spread: 0.3, Noise: 0.2, Outlier: 3}
}

// Floors and ceilings of K and S, on the scale where the anchor scatters 1 or,
// without one, where a film of middling thickness has S times thickness of 5.
const (
	FloorK, CeilK = 1e-5, 1e3
	FloorS, CeilS = 1e-4, 1e2
)

// Fitted is the outcome of Fit.
type Fitted struct {
	Surface    Surface
	Paints     []FittedPaint
	Residuals  []Residual         // one per reading, in the order given
	Thickness  map[string]float64 // of the films of unknown thickness, by Reading.Film
	Iterations int

	x     []float64 // the unknowns and the names of their films, for FitOptions.Start
	films []string
}

// FittedPaint is one paint with what is known about it.
type FittedPaint struct {
	Paint
	Readings   int     // it takes part in
	MedianDE   float64 // CIEDE2000 residual of those readings
	MaxDE      float64
	ErrorK     [colour.Bands]float64 // standard deviation of log K from the curvature of the fit
	ErrorS     [colour.Bands]float64 // the same of log S
	Measured   [colour.Bands]bool    // bands some reading of this paint covers; the others are held level with the nearest
	Doubt      doubt.Spread          // what the readings leave open, as a spread of plausible tubes; none where Quick
	UnknownK   int                   // measured bands where K is uncertain by a factor of two or more
	UnknownS   int                   // the same of S
	NextSample Sample                // the one sample that would settle most
}

// Sample names the kind of patch that would settle what a fit leaves open.
type Sample int

const (
	NoSample     Sample = iota // nothing of weight is open
	NeedMasstone               // the paint alone, opaque
	NeedTint                   // a weighed tint in white: it fixes S
	NeedFilm                   // a thinner film over white: the darkest bands hide K
)

func (s Sample) String() string {
	return [...]string{"none", "masstone", "tint in white", "thin film over white"}[s]
}

// Residual says how well one reading is met.
type Residual struct {
	Name     string
	Measured colour.Lab
	Fitted   colour.Lab
	DE       float64 // CIEDE2000
}

// ErrReadings is wrapped by every refusal of a set of readings.
var ErrReadings = errors.New("readings cannot be fitted")

// Fit finds K and S per band of several paints at once from readings of known
// recipes, opaque or over backings, by non-linear least squares over all of
// them (Gauss-Newton with Levenberg-Marquardt damping on log K, log S and log
// thickness, so that all stay positive). Residuals are differences in L* of
// each band. Bands are joined only by smoothness and by the thicknesses, which
// keeps the normal equations banded.
//
// Bands without a reading, such as 380, 390 and 710-730 nm of an instrument
// that reads 400-700 nm, are held level with the nearest band measured.
func Fit(ctx context.Context, readings []Reading, paints int, opt FitOptions) (*Fitted, error) {
	if err := checkReadings(readings, paints, &opt); err != nil {
		return nil, err
	}
	f := newFitter(readings, paints, opt)
	if err := f.solve(ctx); err != nil {
		return nil, err
	}
	if opt.Outlier > 0 {
		if err := f.discountOutliers(ctx); err != nil {
			return nil, err
		}
	}
	return f.result()
}

func checkReadings(readings []Reading, paints int, opt *FitOptions) error {
	if opt.Light == nil {
		opt.Light = colour.D65()
	}
	if len(readings) == 0 || paints < 1 {
		return fmt.Errorf("%w: there are no readings", ErrReadings)
	}
	if opt.Anchor >= paints || opt.Smoothness <= 0 || opt.Spread <= 0 || opt.Noise <= 0 || opt.Outlier < 0 {
		return fmt.Errorf("%w: options out of range", ErrReadings)
	}
	used := make([]bool, paints)
	opaque := true
	for i := range readings {
		r := &readings[i]
		if err := checkReading(r, paints); err != nil {
			return fmt.Errorf("%w: %s: %w", ErrReadings, r.Name, err)
		}
		opaque = opaque && r.Backing == nil
		for p, a := range r.Amounts {
			used[p] = used[p] || a > 0
		}
	}
	for p, u := range used {
		if !u {
			return fmt.Errorf("%w: no reading holds paint %d", ErrReadings, p)
		}
	}
	if opaque && opt.Anchor < 0 {
		return fmt.Errorf("%w: opaque readings alone need one paint, such as the white, to set the scale", ErrReadings)
	}
	return nil
}

func checkReading(r *Reading, paints int) error {
	if len(r.Amounts) != paints {
		return fmt.Errorf("%d amounts for %d paints", len(r.Amounts), paints)
	}
	sum := 0.0
	for _, a := range r.Amounts {
		if !(a >= 0) || math.IsInf(a, 0) {
			return fmt.Errorf("amount %g", a)
		}
		sum += a
	}
	if !(sum > 0) || math.IsInf(sum, 0) {
		return errors.New("no paint in it")
	}
	if !(r.Thickness >= 0) || !(r.Weight >= 0) {
		return errors.New("negative thickness or weight")
	}
	have := false
	for b, h := range r.Have {
		have = have || h
		if h && !(r.Seen[b] >= 0 && r.Seen[b] <= 2) {
			return fmt.Errorf("reflectance factor %g at %d nm is not within 0..2", r.Seen[b], colour.StartNM+b*colour.StepNM)
		}
		if h && r.Backing != nil && !(r.Backing[b] >= 0 && r.Backing[b] <= 2) {
			return fmt.Errorf("backing %g at %d nm is not within 0..2", r.Backing[b], colour.StartNM+b*colour.StepNM)
		}
	}
	if !have {
		return errors.New("no band was measured")
	}
	return nil
}
