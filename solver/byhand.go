package solver

import (
	"context"
	"fmt"
	"math"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/recipe"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/reach"
)

// Hand is what a hand may mix of the tubes of a problem; nil where anything counts.
func (p *Problem) Hand() *recipe.Hand {
	if p.ByHand == Freely {
		return nil
	}
	h := &recipe.Hand{Whites: set.New(len(p.Tubes)), LetsIn: p.ByHand == LetDown}
	for i := range p.Tubes {
		if p.Tubes[i].IsWhite() {
			h.Whites.Add(i)
		}
	}
	return h
}

func (s *Session) byHandOracle() (reach.Oracle, error) {
	p := &s.problem
	var targets []recipe.Target
	for _, t := range p.Targets {
		targets = append(targets, recipe.Target{Lab: t.Lab, Tolerance: t.Tolerance})
	}
	var err error
	paints, sight := p.paints()
	s.hand, err = recipe.NewByHand(paints, sight, recipe.Limits{Total: p.MaxPartsTotal, Hand: p.Hand()}, targets)
	if err != nil {
		return nil, err
	}
	return reach.NewByHand(s.mixer, targets, s.hand), nil
}

// countOut counts out the recipes of some tubes, where those count, so that what
// follows is answered without a pause.
func (s *Session) countOut(ctx context.Context, tubes set.Set) error {
	if s.hand == nil {
		return nil
	}
	return s.hand.CountOut(ctx, tubes)
}

// toAsk are the tubes among which to look for what a palette misses: by hand none but
// its own where it misses nothing, since it takes long to count out all.
func (s *Session) toAsk(ctx context.Context, palette, allowed set.Set) (set.Set, error) {
	if err := s.countOut(ctx, palette); err != nil || s.hand == nil {
		return allowed, err
	}
	for t := range s.problem.Targets {
		if _, ok := s.hand.Serves(ctx, t, palette); !ok {
			return allowed, s.countOut(ctx, allowed)
		}
	}
	return palette, nil
}

// proof is how sure a verdict is that nobody has certified.
func (s *Session) proof() string {
	if s.hand != nil {
		return Counted
	}
	return Searched
}

// mostProportion is the largest whole number in which a hand's recipe can be told: 48
// quarters, a paint of them let down one in ten.
const mostProportion = 4 * 32 * 11

// outcomeByHand is a mix by hand, whose proportions are whole numbers.
func (s *Session) outcomeByHand(t int, mix gamut.Mix) Outcome {
	target := &s.problem.Targets[t]
	out := Outcome{Target: target.Name, Lab: target.Lab, Mix: mix.Lab, DE: mix.DE, Reached: mix.DE <= target.Tolerance, PartsDE: mix.DE}
	parts := proportions(mix.Shares)
	for i, p := range mix.Paints {
		out.Shares = append(out.Shares, Share{s.index.id(p), mix.Shares[i]})
		out.Parts = append(out.Parts, Part{s.index.id(p), parts[i]})
	}
	return out
}

// proportions are the smallest whole numbers in the proportions of shares.
func proportions(shares []float64) []int {
	out := make([]int, len(shares))
	for whole := 1; whole <= mostProportion; whole++ {
		fits := true
		for i, share := range shares {
			n := math.Round(share * float64(whole))
			out[i] = int(n)
			fits = fits && n > 0 && math.Abs(float64(share*float64(whole))-n) < 1e-7
		}
		if fits {
			break
		}
	}
	return out
}

// verifyByHand checks that what is reached straight is a recipe of the knife, and
// bears a touch of half or twice the size.
func (s *Session) verifyByHand(o *Outcome, t *Target) error {
	if s.problem.ByHand != Straight || !o.Reached {
		return nil
	}
	whites := 0
	for _, p := range o.Parts {
		if s.tube(p.ID).IsWhite() {
			whites++
		}
	}
	switch {
	case whites > 1 || len(o.Parts)-whites > 3:
		return fmt.Errorf("%d paints of which %d are white", len(o.Parts), whites)
	case s.measured(o.Parts, 4):
		return nil
	case s.measured(o.Parts, 1):
		return s.steady(o, t)
	}
	return fmt.Errorf("%v is no recipe of the knife", o.Parts)
}

// measured reports whether so many quarters to each proportion are whole parts and
// touches, as a hand measures them.
func (s *Session) measured(parts []Part, n int) bool {
	touches, wholes := 0, 0
	for _, p := range parts {
		switch q := n * p.Parts; {
		case q == 1:
			touches++
		case q%4 == 0 && q <= 32:
			wholes += q
		default:
			return false
		}
	}
	return wholes+touches <= 4*s.problem.MaxPartsTotal && (touches == 0 || touches <= 2 && wholes >= 16)
}

// steady checks touches, a quarter each, at half and twice their size.
func (s *Session) steady(o *Outcome, t *Target) error {
	for choice := range 1 << len(o.Parts) {
		shares := make([]Share, len(o.Parts))
		for i, p := range o.Parts {
			shares[i] = Share{p.ID, float64(p.Parts)}
			if p.Parts == 1 {
				shares[i].Fraction = [2]float64{0.5, 2}[choice>>i&1]
			}
		}
		if de := colour.DE2000(seen(&s.problem, s.tube, shares), t.Lab); de > t.Tolerance+1+same {
			return fmt.Errorf("a touch more or less leads to %v", de)
		}
	}
	return nil
}
