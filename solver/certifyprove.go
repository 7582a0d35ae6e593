package solver

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sync"

	"fewtubes/gamut"
	"fewtubes/gamut/certain"
	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/parallel"
)

// orders are how often at most a need is made to ask for less because its proof
// was given up; each takes a part of the budget.
const (
	orders = 2
	share  = 4
)

// claim says that a set of tubes does not reach a target.
type claim struct {
	target    int
	without   []string
	tubes     set.Set
	proof     *string
	unsettled *string
	cells     int       // that may be worked on next
	before    []set.Set // sets tried
	hopeless  bool      // for a reason that no other set would mend
	found     *check.Certificate
}

func (c *claim) tried() bool {
	return slices.ContainsFunc(c.before, func(s set.Set) bool { return slices.Equal(s, c.tubes) })
}

// prover works on claims.
type prover struct {
	s      *Session
	ctx    context.Context
	any    *gamut.Mixer // mixes any number of paints
	cells  int          // budget of each claim
	watch  func(done, all int)
	claims []*claim
	mu     sync.Mutex
	done   int
	all    int
}

func (s *Session) newProver(ctx context.Context, cells int, watch func(done, all int)) (*prover, error) {
	p := &prover{s: s, ctx: ctx, cells: cmp.Or(cells, certain.DefaultCells), watch: watch}
	var err error
	p.any, err = gamut.NewMixer(s.paints(set.Full(len(s.index.tubes))), gamut.Options{Surface: s.problem.Surface, Light: s.problem.Light, PaintsPerMix: -1})
	return p, err
}

func (p *prover) claim(c *claim) { p.claims = append(p.claims, c) }

// needs proves the needs of an answer and what else is claimed. The proofs of
// needs come first.
func (p *prover) needs(w *weakening, a *Answer) ([]Proof, error) {
	if err := w.narrowOnes(); err != nil {
		return nil, err
	}
	var needs []*claim
	for i := range a.Needs {
		c := &claim{proof: &a.Needs[i].Proof, unsettled: &a.Needs[i].Unsettled, cells: p.cells}
		if w.canAskForLess(i) {
			c.cells -= orders * (p.cells / share)
		}
		w.apply(i, c, &a.Needs[i])
		needs = append(needs, c)
	}
	p.claims = append(needs, p.claims...)
	err := p.prove(p.claims)
	for order := range uint64(orders) {
		var again []*claim
		for i, c := range needs {
			if err != nil || *c.proof == Certified || c.hopeless || p.cells < share {
				continue
			}
			w.weaken(i, order+1)
			switch w.apply(i, c, &a.Needs[i]); {
			case !c.tried():
				c.cells = p.cells / share
			case order == orders-1 && len(c.before) == 1 && c.cells < p.cells:
				c.cells = p.cells // it cannot ask for less after all
			default:
				continue
			}
			again = append(again, c)
		}
		err = cmp.Or(err, p.ctx.Err(), p.prove(again))
	}
	return p.proofs(), err
}

// prove works on claims; a proof is verified by the checker, which shares nothing
// with the search, before it counts.
func (p *prover) prove(claims []*claim) error {
	errs := make([]error, len(claims))
	p.all += len(claims)
	parallel.Each(len(claims), func(i int) {
		errs[i] = p.proveOne(claims[i])
		p.mu.Lock()
		defer p.mu.Unlock()
		if p.done++; p.watch != nil {
			p.watch(p.done, p.all)
		}
	})
	for _, c := range claims {
		if *c.proof = Searched; c.found != nil || c.tubes.Len() == 0 { // of nothing no mix can be made
			*c.proof = Certified
		}
	}
	return errors.Join(errs...)
}

func (p *prover) proofs() (out []Proof) {
	for _, c := range p.claims {
		if c.found != nil {
			out = append(out, Proof{p.s.problem.Targets[c.target].Name, c.without, c.found})
		}
	}
	return out
}

func (p *prover) proveOne(c *claim) error {
	if p.ctx.Err() != nil || c.target < 0 || c.tubes.Len() == 0 {
		return p.ctx.Err()
	}
	c.before = append(c.before, c.tubes)
	problem := &p.s.problem
	target := &problem.Targets[c.target]
	near := p.nearest(c.target, c.tubes)
	if near.DE <= target.Tolerance && len(near.Paints) > problem.PaintsPerMix {
		*c.unsettled = fmt.Sprintf("only the limit of %d paints in a mix puts it out of reach: a mix of %d comes within ΔE00 %.2f, so it is no theorem about mixing",
			problem.PaintsPerMix, len(near.Paints), near.DE)
		return nil
	}
	paints := p.s.paints(c.tubes)
	found, err := certain.Unreachable(p.ctx, paints, problem.Surface, problem.Light, target.Lab, target.Tolerance,
		certain.Options{Cells: c.cells, Near: []colour.Lab{near.Lab}})
	if errors.Is(err, certain.ErrQuestion) {
		*c.unsettled, c.hopeless = err.Error(), true
		return nil
	}
	if err != nil {
		return err
	}
	c.hopeless = found.Verdict == certain.Unbounded
	if *c.unsettled = p.reason(found, target.Tolerance); *c.unsettled != "" {
		return p.ctx.Err()
	}
	asked := check.Claim{Paints: paints, Surface: problem.Surface, Light: problem.Light.Name, Target: target.Lab, Tolerance: target.Tolerance}
	if !reflect.DeepEqual(found.Certificate.Claim, asked) {
		return errClaim
	}
	if err := found.Certificate.Verify(p.ctx); err != nil {
		return err
	}
	c.found = found.Certificate
	return nil
}

// nearest is a mix of any number of tubes within the target's tolerance, which
// leaves nothing to prove, or else the nearest.
func (p *prover) nearest(target int, tubes set.Set) gamut.Mix {
	if tubes.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}
	}
	t := &p.s.problem.Targets[target]
	mix, _ := p.any.Within(t.Lab, tubes, t.Tolerance, gamut.Search)
	return mix
}

// reason says why no proof was found; empty: one was.
func (p *prover) reason(r *certain.Result, tolerance float64) string {
	switch r.Verdict {
	case certain.Certified:
		return ""
	case certain.Refuted:
		return fmt.Sprintf("a mix of the other tubes comes within ΔE00 %.2f", r.DE)
	case certain.Unbounded:
		return fmt.Sprintf("a tolerance of ΔE00 %.2f around it is too wide for the proof, so it rests on the search; a tighter one may be proved", tolerance)
	}
	return fmt.Sprintf("the proof was given up after %d cells: more may settle it", p.cells)
}

var errClaim = errors.New("solver: internal: a certificate proves something else than was asked")

func (s *Session) paints(tubes set.Set) (out []film.Paint) {
	for _, i := range tubes.Members() {
		out = append(out, s.index.tubes[i].Paint)
	}
	return out
}

func (s *Session) targetIndex(name string) int {
	for i := range s.problem.Targets {
		if s.problem.Targets[i].Name == name {
			return i
		}
	}
	return -1
}
