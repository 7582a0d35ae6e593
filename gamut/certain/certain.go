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
	Unbounded                // no region was found to hold the tolerance, as happens where that is wide: nothing is known
)

func (v Verdict) String() string { return [...]string{"open", "certified", "refuted", "unbounded"}[v] }

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

// ErrUnbounded says that no convex body was proved to hold the colours within the
// tolerance of a target.
var ErrUnbounded = errors.New("certain: the tolerance region could not be bounded")

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
			switch {
			case ctx.Err() != nil:
				return &Result{}, nil
			case errors.Is(err, ErrUnbounded):
				return &Result{Verdict: Unbounded}, nil
			}
			return nil, err
		}
	}
	if opt.Cells == 0 {
		opt.Cells = DefaultCells
	}
	p := newCone(paints, surface, light, region.faces)
	out := &Result{}
	l, moves := p.whole()
	s := &search{root: &node{limits: l, steps: moves}}
	done, pivots := s.run(ctx, opt.Cells, func() *worker {
		return newWorker(ctx, p, func(mixed []int, amounts []float64) *reached {
			return claimed{&claim, light, p}.refute(mixed, amounts)
		})
	})
	out.Cells, out.Pivots = s.cells, pivots
	switch {
	case s.mix != nil:
		out.Verdict, out.Shares, out.DE = Refuted, s.mix.shares, s.mix.de
	case done:
		out.Verdict = Certified
		out.Certificate = &check.Certificate{Claim: claim, Norms: p.unit, Faces: region.faces, Steps: p.trim(s.root.all(nil))}
	}
	return out, nil
}

// reached is a mix within the tolerance.
type reached struct {
	shares []float64
	de     float64
}

// claimed is a claim and what mixes are tried by.
type claimed struct {
	*check.Claim
	light *colour.Light
	p     *cone
}

// refute makes the mix of a vertex, if it comes within the tolerance.
func (c claimed) refute(mixed []int, amounts []float64) *reached {
	p, shares, sum := c.p, make([]float64, c.p.n), 0.0
	for k, i := range mixed {
		shares[i] = max(0, amounts[k]) * p.norm[i] / p.unit[i]
		sum += shares[i]
	}
	for i := range shares {
		shares[i] /= sum
	}
	var mix film.Paint
	film.Mix(&mix, c.Paints, shares)
	seen := mix.Masstone(c.Surface)
	de := colour.DE2000(c.light.Lab(&seen), c.Target)
	if !(de <= c.Tolerance) {
		return nil
	}
	return &reached{shares, de}
}
