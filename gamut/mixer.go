package gamut

import (
	"errors"
	"fmt"
	"math"

	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/internal/search"
)

// Options say how mixes are seen and how many paints one may hold.
type Options struct {
	Surface      film.Surface  // the one K and S were fitted with
	Light        *colour.Light // nil: D65
	PaintsPerMix int           // most paints in one mix; 0: 4, < 0: no limit
}

// DefaultPaintsPerMix is the limit when none is given. On measured paints four
// lose nothing against mixing without a limit.
const DefaultPaintsPerMix = 4

// Mixer mixes a fixed list of paints. It is immutable to its user and safe for
// concurrent use; answers do not depend on what was asked before.
type Mixer struct{ search *search.Paints }

// ErrPaints is wrapped by every refusal of a list of paints.
var ErrPaints = errors.New("paints cannot be mixed")

// NewMixer prepares paints for mixing. K and S must be positive and finite.
func NewMixer(paints []film.Paint, opt Options) (*Mixer, error) {
	if err := checkPaints(paints, opt.Surface); err != nil {
		return nil, err
	}
	if opt.Light == nil {
		opt.Light = colour.D65()
	}
	limit := opt.PaintsPerMix
	switch {
	case limit == 0:
		limit = DefaultPaintsPerMix
	case limit < 0:
		limit = len(paints)
	}
	return &Mixer{search.New(paints, opt.Surface, opt.Light, limit)}, nil
}

func checkPaints(paints []film.Paint, surface film.Surface) error {
	if len(paints) == 0 {
		return fmt.Errorf("%w: there is none", ErrPaints)
	}
	if !(surface.K1 >= 0 && surface.K1 < 1 && surface.K2 >= 0 && surface.K2 < 1) {
		return fmt.Errorf("%w: surface constants %g and %g are not within 0..1", ErrPaints, surface.K1, surface.K2)
	}
	for i := range paints {
		for b := range paints[i].K {
			k, s := paints[i].K[b], paints[i].S[b]
			if !(k > 0 && s > 0) || math.IsInf(k+s, 0) {
				return fmt.Errorf("%w: paint %d has K %g, S %g at %d nm; both must be positive", ErrPaints, i, k, s, colour.StartNM+b*colour.StepNM)
			}
		}
	}
	return nil
}

// Only mixes some of the paints, which are numbered anew in that order.
func (m *Mixer) Only(paints []int) *Mixer { return &Mixer{m.search.Only(paints)} }

// Len is the number of paints.
func (m *Mixer) Len() int { return m.search.Len() }

// PaintsPerMix is the most paints one mix may hold.
func (m *Mixer) PaintsPerMix() int { return m.search.Limit() }

// Evaluate is the colour of a mixture: amounts by volume of paint from the
// tube, >= 0 on any common scale, one per paint listed. It goes straight
// through package film and shares nothing with the search.
func (m *Mixer) Evaluate(paints []int, amounts []float64) colour.Lab {
	return m.search.Evaluate(paints, amounts)
}
