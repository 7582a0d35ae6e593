package certify

import (
	"cmp"
	"context"
	"errors"
	"math"
	"reflect"
	"slices"
	"sync"

	"fewtubes/gamut"
	"fewtubes/gamut/certain"
	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// tried reports whether the claim was worked on with these tubes.
func (c *Claim) tried() bool { return slices.ContainsFunc(c.before, c.tubes.Equal) }

// prover works on claims.
type prover struct {
	*Subject
	ctx   context.Context
	any   *gamut.Mixer // mixes any number of paints
	cells int          // budget of each claim
	watch func(done, all int)
	mu    sync.Mutex
	done  int
	all   int
}

func (s *Subject) newProver(ctx context.Context, cells int, watch func(done, all int)) (*prover, error) {
	p := &prover{Subject: s, ctx: ctx, cells: cmp.Or(cells, certain.DefaultCells), watch: watch}
	var err error
	p.any, err = gamut.NewMixer(s.Paints, gamut.Options{Surface: s.Surface, Light: s.Light, PaintsPerMix: -1})
	return p, err
}

// claim is one with the whole budget.
func (p *prover) claim(target int, tubes set.Set) *Claim {
	return &Claim{Target: target, tubes: tubes, cells: p.cells}
}

// prove works on claims; a proof is verified by the checker, which shares nothing
// with the search, before it counts.
func (p *prover) prove(claims []*Claim) error {
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
		c.Certified = c.Certificate != nil || c.tubes.Len() == 0 // of nothing no mix can be made
	}
	return errors.Join(errs...)
}

func (p *prover) proveOne(c *Claim) error {
	if p.ctx.Err() != nil || c.Target < 0 || c.tubes.Len() == 0 {
		return p.ctx.Err()
	}
	c.before = append(c.before, c.tubes)
	target, tolerance := p.Targets[c.Target], p.Tolerance[c.Target]
	near := p.nearest(c.Target, c.tubes)
	if near.DE <= tolerance && len(near.Paints) > p.PaintsPerMix {
		c.Unsettled = Unsettled{Kind: MixLimit, Paints: len(near.Paints), DE: near.DE}
		return nil
	}
	paints := p.paints(c.tubes)
	found, err := certain.Unreachable(p.ctx, paints, p.Surface, p.Light, target, tolerance,
		certain.Options{Cells: c.cells, Near: []colour.Lab{near.Lab}})
	if errors.Is(err, certain.ErrQuestion) {
		c.Unsettled, c.hopeless = Unsettled{Kind: NoQuestion, Err: err}, true
		return nil
	}
	if err != nil {
		return err
	}
	c.hopeless = found.Verdict == certain.Unbounded
	if c.Unsettled = p.reason(found); c.Unsettled.Kind != Settled {
		return p.ctx.Err()
	}
	asked := check.Claim{Paints: paints, Surface: p.Surface, Light: p.Light.Name, Target: target, Tolerance: tolerance}
	if !reflect.DeepEqual(found.Certificate.Claim, asked) {
		return errClaim
	}
	if err := found.Certificate.Verify(p.ctx); errors.Is(err, check.ErrProof) {
		c.Unsettled = Unsettled{Kind: Refused}
		return nil
	} else if err != nil {
		return err
	}
	c.Certificate = found.Certificate
	return nil
}

// nearest is a mix of any number of tubes within the target's tolerance, which
// leaves nothing to prove, or else the nearest.
func (p *prover) nearest(target int, tubes set.Set) gamut.Mix {
	if tubes.Len() == 0 {
		return gamut.Mix{DE: math.Inf(1)}
	}
	mix, _ := p.any.Within(p.Targets[target], tubes, p.Tolerance[target], gamut.Search)
	return mix
}

// reason says why no proof was found.
func (p *prover) reason(r *certain.Result) Unsettled {
	switch r.Verdict {
	case certain.Certified:
		return Unsettled{}
	case certain.Refuted:
		return Unsettled{Kind: Refuted, DE: r.DE}
	case certain.Unbounded:
		return Unsettled{Kind: Unbounded}
	}
	return Unsettled{Kind: GivenUp, Cells: p.cells}
}

var errClaim = errors.New("certify: internal: a certificate proves something else than was asked")

// paints are those of some tubes.
func (s *Subject) paints(tubes set.Set) (out []film.Paint) {
	for _, i := range tubes.Members() {
		out = append(out, s.Paints[i])
	}
	return out
}
