package certain

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Verdict is what Unreachable found.
type Verdict int

const (
	Open      Verdict = iota // neither proved nor refuted within the budget
	Certified                // no mix whatever comes within the tolerance
	Refuted                  // some mix does
)

func (v Verdict) String() string { return [...]string{"open", "certified", "refuted"}[v] }

// Options bound the work of one verdict. Work is counted, not timed, so that a
// verdict does not depend on the machine.
type Options struct {
	Cells  int          // most cells; 0: DefaultCells
	Near   []colour.Lab // the nearest mixes a search found; the bound is closest there
	Region *Region      // of the same target, light and tolerance; nil: made here, with Near
}

// DefaultCells is the budget when none is given.
const DefaultCells = 1000

// Result is a verdict with its grounds.
type Result struct {
	Verdict     Verdict
	Certificate *check.Certificate // of Certified
	Shares      []float64          // of Refuted: a mix within the tolerance, one share per paint, sum 1
	DE          float64            // of Refuted: CIEDE2000 of that mix to the target
	Cells       int                // worked on
	Pivots      int                // of all linear programs
}

// ErrQuestion is wrapped by every refusal of a question.
var ErrQuestion = errors.New("the question has no meaning")

var errRegion = errors.New("certain: the tolerance region could not be bounded")

// Unreachable tries to prove that no mix of any number of the paints (volumes
// >= 0, one opaque film, seen through the surface under the light) comes within
// tol (CIEDE2000, > 0) of the target. A verdict of Certified is a theorem about
// these K and S: the search is done in floating point, but every step that
// counts is rounded outward and can be verified by package check. When ctx ends
// the verdict is Open.
func Unreachable(ctx context.Context, paints []film.Paint, surface film.Surface, light *colour.Light, target colour.Lab, tol float64, opt Options) (*Result, error) {
	claim := check.Claim{Paints: slices.Clone(paints), Surface: surface, Light: light.Name, Target: target, Tolerance: tol}
	if err := claim.Sane(); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrQuestion, err)
	}
	region := opt.Region
	if region != nil && !region.answers(&claim, light) {
		return nil, fmt.Errorf("%w: the region is of another target, light or tolerance", ErrQuestion)
	}
	if region == nil {
		var err error
		if region, err = NewRegion(ctx, target, light, tol, opt.Near...); err != nil {
			if ctx.Err() != nil {
				return &Result{}, nil
			}
			return nil, err
		}
	}
	if opt.Cells == 0 {
		opt.Cells = DefaultCells
	}
	p := newCone(paints, surface, light, region.faces)
	out := &Result{}
	s := newSearch(p, func(mixed []int, amounts []float64) bool {
		return out.refute(&claim, light, p, mixed, amounts)
	})
	done := s.run(ctx, opt.Cells)
	out.Cells, out.Pivots = s.cells, s.x.pivots
	switch {
	case s.broken:
		out.Verdict = Refuted
	case done:
		out.Verdict = Certified
		out.Certificate = &check.Certificate{Claim: claim, Norms: p.unit, Faces: region.faces, Steps: s.trail.steps}
	}
	return out, nil
}

// refute keeps a mix if it comes within the tolerance.
func (r *Result) refute(claim *check.Claim, light *colour.Light, p *cone, mixed []int, amounts []float64) bool {
	shares, sum := make([]float64, p.n), 0.0
	for c, i := range mixed {
		shares[i] = max(0, amounts[c]) * p.norm[i] / p.unit[i]
		sum += shares[i]
	}
	for i := range shares {
		shares[i] /= sum
	}
	var mix film.Paint
	film.Mix(&mix, claim.Paints, shares)
	seen := mix.Masstone(claim.Surface)
	de := colour.DE2000(light.Lab(&seen), claim.Target)
	if !(de <= claim.Tolerance) {
		return false
	}
	r.Shares, r.DE = shares, de
	return true
}
