package certify

import (
	"context"
	"math"
	"slices"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/choice"
	"fewtubes/solver/internal/cover"
)

// Subject is what claims are about.
type Subject struct {
	*choice.Stakes
	Paints       []film.Paint // per tube
	Targets      []colour.Lab
	Surface      film.Surface
	Light        *colour.Light
	PaintsPerMix int
}

// Claim says that a set of tubes does not reach a target.
type Claim struct {
	Target int
	OneOf  set.Set // of a need: one of these is needed; nil: it is no need
	BestDE float64 // of a need: the nearest that all other allowed tubes come

	Certified   bool
	Certificate *check.Certificate // nil: none was found, or none is needed where there are no tubes
	Unsettled   Unsettled          // why no proof was found

	tubes    set.Set
	cells    int       // that may be worked on next
	before   []set.Set // sets tried
	hopeless bool      // for a reason that no other set would mend
}

// Unsettled is why a claim is not proved.
type Unsettled struct {
	Kind   Kind
	Paints int     // of the mix: MixLimit
	DE     float64 // of a mix: MixLimit, Refuted
	Cells  int     // GivenUp
	Err    error   // NoQuestion
}

// Kind is a kind of reason why a claim is not proved.
type Kind int

const (
	Settled    Kind = iota // it is, or was not yet worked on
	MixLimit               // only the limit of paints in a mix puts the target out of reach
	NoQuestion             // the question makes no sense
	Refuted                // a mix comes within the tolerance
	Unbounded              // the tolerance is too wide
	GivenUp                // the budget of cells is spent
	Refused                // the checker, whose bounds are others than the search's, does not take the proof
)

// Minimum tries to prove that a minimum of so many tubes holds under the rules: its
// needs and what is beyond all tubes. Where the same minimum follows from narrow
// needs that ask for less, these take the place of the given ones. cells is the
// budget of each claim, all ways to ask for less together (0: certain.DefaultCells).
// The claims are about the needs, as they were given, and about what is beyond. When
// ctx ends, what is proved by then is kept. watch, which may be nil, is told after
// each, by one goroutine at a time.
func (s *Subject) Minimum(ctx context.Context, r *cover.Rules, size int, needs []choice.Need, beyond []int, cells int, watch func(done, all int)) (about, misses []*Claim, err error) {
	p, err := s.newProver(ctx, cells, watch)
	if err != nil {
		return nil, nil, err
	}
	for _, t := range beyond {
		misses = append(misses, p.claim(t, r.Allowed))
	}
	w := newWeakening(p, r, size, needs)
	if err := w.narrowOnes(); err != nil {
		return nil, nil, err // nothing is proved
	}
	err = w.prove(misses)
	return w.claims, misses, err
}

// Misses tries to prove that a palette as it stands misses some targets.
func (s *Subject) Misses(ctx context.Context, palette set.Set, targets []int, cells int, watch func(done, all int)) ([]*Claim, error) {
	p, err := s.newProver(ctx, cells, watch)
	if err != nil {
		return nil, err
	}
	var claims []*Claim
	for _, t := range targets {
		claims = append(claims, p.claim(t, palette))
	}
	return claims, p.prove(claims)
}

// What a certificate costs grows as the margin of a need shrinks, so before
// needs are certified others are looked for that prove the same minimum with
// more to spare: cuts of the targets at wider tolerances, which hold at the
// tolerance asked for all the more.

// Wider are wider needs than those given, nil if there are none. What is learnt on
// the way is not kept: later answers must not depend on it.
func (s *Subject) Wider(ctx context.Context, known *choice.Core, r *cover.Rules, size int, needs []choice.Need, beyond []int) ([]choice.Need, error) {
	if len(needs) == 0 || s.narrowest(needs) >= choice.Wide {
		return nil, nil
	}
	c := s.Blank()
	if known != nil {
		c = known.Copy()
	}
	d := &choice.Decision{Rules: r, Size: size}
	for t := range s.Targets {
		if !slices.Contains(beyond, t) {
			d.Reachable = append(d.Reachable, t)
		}
	}
	wider, err := c.WideNeeds(ctx, d)
	if err != nil || len(wider) == 0 || s.narrowest(wider) <= s.narrowest(needs) {
		return nil, err
	}
	return wider, nil
}

// narrowest is the least margin of needs.
func (s *Subject) narrowest(needs []choice.Need) float64 {
	least := math.Inf(1)
	for _, n := range needs {
		least = min(least, n.Best-s.Tolerance[n.Target])
	}
	return least
}
