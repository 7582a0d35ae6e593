package film

import (
	"context"
	"errors"
	"fmt"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film/doubt"
)

// Prior is a paint as it is known before any swatch of it was seen.
type Prior struct {
	Paint Paint
	Doubt doubt.Spread
	White bool // mixtures with whites alone are tints
}

// Mixture is paint laid out in an opaque film, or in one of known thickness over a ground.
type Mixture struct {
	Amounts     []float64        // volume of each paint, >= 0, any scale
	Ground      *colour.Spectrum // reflectance factor of the bare ground as seen; nil: the film is opaque
	Micrometres float64          // dry thickness of a film over a ground
}

// Swatch is a mixture that somebody painted and looked at.
type Swatch struct {
	Name string
	Mixture
	Seen  colour.Lab // D65
	Noise float64    // of the reading: root mean square, CIEDE2000
}

// ModelError is what the film model itself misses a swatch by, root mean square, CIEDE2000,
// even of paints known perfectly: paints alone, tints in white, paint in paint.
type ModelError struct{ Alone, Tint, Mixed float64 }

// PublishedError is what published films are missed by, each paint left out in turn
// (FITTING.md).
var PublishedError = ModelError{Alone: 3, Tint: 3, Mixed: 4}

// LearnOptions steer Learn. The zero value is not useful: start from DefaultLearn.
type LearnOptions struct {
	Scale Scale
	Model ModelError
	// Thickness is how far the thickness of a film may be off, as the standard deviation of
	// its logarithm.
	Thickness float64
	// Clear is how many times as thick as it is said to be a film without white looks.
	Clear float64
	// Outlier is how many times its expected size the miss of a swatch is at which it
	// counts half. 0: every swatch counts in full.
	Outlier float64
}

// DefaultLearn is for paints on this scale.
func DefaultLearn(s Scale) LearnOptions {
	return LearnOptions{Scale: s, Model: PublishedError, Thickness: 0.8, Clear: 0.65, Outlier: 2}
}

// Learnt is what swatches made of some paints, and how sure that is.
type Learnt struct {
	Paints   []LearntPaint
	Swatches []Met // in the order given

	teacher *teacher
	at      []float64 // the terms, in standard deviations of the prior
	curve   *factored // of half the sum of squares there
}

// LearntPaint is one paint moved as far as the evidence allows.
type LearntPaint struct {
	Paint    Paint
	Doubt    doubt.Spread    // what is left of it
	Moved    doubt.Deviation // from the prior
	Swatches int             // it takes part in
	// Strength is how many times as strong as the prior it is, by what it absorbs, and Within
	// the factor that two in three lie no farther from that than.
	Strength, Within float64
}

// Met says how well one swatch is met.
type Met struct {
	Before, After colour.Lab // as foretold from the priors, and from what was learnt
	DEBefore, DE  float64    // CIEDE2000 between those and what was seen
	Weight        float64    // of it against the others, 1 unless it disagrees with them
	Micrometres   float64    // thickness of the film as it seems to be
}

// Disagrees reports whether a swatch was counted less than half, since the others do
// not fit it.
func (m *Met) Disagrees() bool { return m.Weight < 0.5 }

// ErrSwatches is wrapped by every refusal of a set of swatches.
var ErrSwatches = errors.New("swatches cannot be learnt from")

// Learn moves paints from their priors as far as the swatches ask for: the most probable
// values of the twelve terms of every paint's deviation (package doubt), whose
// prior is its spread, all swatches at once. A swatch is missed by CIEDE2000 as it is
// near the colour seen, against what its reading and the model may be off together.
// Gauss-Newton, damped; swatches that the others contradict count less.
//
// Swatches tell what paints are against each other alone. Where a white is among them all is
// counted, as in the catalogue, in what that white scatters, which stays as it was.
func Learn(ctx context.Context, swatches []Swatch, priors []Prior, opt LearnOptions) (*Learnt, error) {
	if len(priors) == 0 {
		return nil, fmt.Errorf("%w: there are no paints", ErrSwatches)
	}
	for i := range swatches {
		if err := swatches[i].check(len(priors)); err != nil {
			return nil, fmt.Errorf("%w: %s: %w", ErrSwatches, swatches[i].Name, err)
		}
	}
	t := newTeacher(swatches, priors, &opt)
	z := make([]float64, t.unknowns)
	if err := t.solve(ctx, z, firstRounds); err != nil {
		return nil, err
	}
	if opt.Outlier > 0 {
		if err := t.discountOutliers(ctx, z); err != nil {
			return nil, err
		}
	}
	return t.result(z)
}

func (s *Swatch) check(paints int) error {
	if err := s.Mixture.check(paints); err != nil {
		return err
	}
	if !s.Seen.Finite() || !(s.Noise >= 0) || math.IsInf(s.Noise, 0) {
		return errors.New("the colour or its noise is no number")
	}
	return nil
}

func (m *Mixture) check(paints int) error {
	if len(m.Amounts) != paints {
		return fmt.Errorf("%d amounts for %d paints", len(m.Amounts), paints)
	}
	sum := 0.0
	for _, a := range m.Amounts {
		if !(a >= 0) {
			return fmt.Errorf("amount %g", a)
		}
		sum += a
	}
	if !(sum > 0) || math.IsInf(sum, 0) {
		return errors.New("no paint in it")
	}
	if m.Ground != nil && !(m.Micrometres > 0 && m.Micrometres < 1e5) {
		return fmt.Errorf("a film %g um thick", m.Micrometres)
	}
	return nil
}
