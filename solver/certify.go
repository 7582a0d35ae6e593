package solver

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"reflect"
	"sync"

	"fewtubes/gamut"
	"fewtubes/gamut/certain"
	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// Certified says that no mix whatever, of any number of paints, comes within
// the tolerance: a theorem about the K and S of the tubes, not the outcome of a
// search.
const Certified = "certified"

// Proof is a certificate and what it settles.
type Proof struct {
	Target      string
	Without     []string // the tubes of the need; empty: no allowed tube is left out
	Certificate *check.Certificate
}

// Certify tries to turn the verdicts an answer rests on into theorems: its
// needs, and the colours beyond every allowed tube. Where the same minimum
// follows from needs with more to spare, these take the place of the answer's:
// they are easier to prove. What is proved is marked Certified in the answer,
// the minimum too when every need is; what is not stays Searched and says why
// (Unsettled). limits are those of the answer; cells is the budget of each proof
// (0: certain.DefaultCells). When ctx ends, what is proved by then is kept.
// watch, which may be nil, is told after each, by one goroutine at a time.
func (s *Session) Certify(ctx context.Context, limits Limits, a *Answer, cells int, watch func(done, all int)) ([]Proof, error) {
	r, err := s.box.rules(&limits)
	if err != nil {
		return nil, err
	}
	if err := s.widen(ctx, r, a); err != nil {
		return nil, err
	}
	var claims []claim
	for i := range a.Needs {
		n := &a.Needs[i]
		needed, err := s.box.find("need", n.OneOf)
		if err != nil {
			return nil, err
		}
		claims = append(claims, claim{target: n.Target, without: n.OneOf, tubes: minus(r.allowed, needed), proof: &n.Proof, unsettled: &n.Unsettled})
	}
	for i := range a.Unreachable {
		claims = append(claims, claim{target: a.Unreachable[i].Target, tubes: r.allowed, proof: &a.Unreachable[i].Proof, unsettled: &a.Unreachable[i].Unsettled})
	}
	proofs, err := s.prove(ctx, claims, cells, watch)
	if a.Minimum.Proof == Searched && len(a.Needs) > 0 {
		a.Minimum.Proof = Certified
		for _, n := range a.Needs {
			if n.Proof != Certified {
				a.Minimum.Proof = Searched
			}
		}
	}
	return proofs, err
}

// CertifyMisses is Certify for what a palette as it stands misses.
func (s *Session) CertifyMisses(ctx context.Context, palette []string, missed []Miss, cells int, watch func(done, all int)) ([]Proof, error) {
	set, err := s.box.find("palette", palette)
	if err != nil {
		return nil, err
	}
	var claims []claim
	for i := range missed {
		claims = append(claims, claim{target: missed[i].Target, tubes: set, proof: &missed[i].Proof, unsettled: &missed[i].Unsettled})
	}
	return s.prove(ctx, claims, cells, watch)
}

// claim says that a set of tubes does not reach a target.
type claim struct {
	target    string
	without   []string
	tubes     gamut.Set
	proof     *string
	unsettled *string
}

// prove works on every claim; a proof is verified by the checker, which
// shares nothing with the search, before it counts.
func (s *Session) prove(ctx context.Context, claims []claim, cells int, watch func(done, all int)) ([]Proof, error) {
	found := make([]*check.Certificate, len(claims))
	errs := make([]error, len(claims))
	var mu sync.Mutex
	done := 0
	each(len(claims), func(i int) {
		found[i], errs[i] = s.proveOne(ctx, &claims[i], cells)
		mu.Lock()
		defer mu.Unlock()
		if done++; watch != nil {
			watch(done, len(claims))
		}
	})
	var proofs []Proof
	for i, c := range found {
		if *claims[i].proof = Searched; claims[i].tubes.Len() == 0 {
			*claims[i].proof = Certified // of nothing no mix can be made
		} else if c != nil {
			*claims[i].proof = Certified
			proofs = append(proofs, Proof{claims[i].target, claims[i].without, c})
		}
	}
	return proofs, errors.Join(errs...)
}

func (s *Session) proveOne(ctx context.Context, c *claim, cells int) (*check.Certificate, error) {
	t := s.targetIndex(c.target)
	if ctx.Err() != nil || t < 0 || c.tubes.Len() == 0 {
		return nil, ctx.Err()
	}
	target := &s.problem.Targets[t]
	paints := s.paints(c.tubes)
	near, free, err := s.nearestOfAny(paints, t)
	if err != nil {
		return nil, err
	}
	if free && len(near.Paints) > s.problem.PaintsPerMix {
		*c.unsettled = fmt.Sprintf("only the limit of %d paints in a mix puts it out of reach: a mix of %d comes within ΔE00 %.2f, so it is no theorem about mixing",
			s.problem.PaintsPerMix, len(near.Paints), near.DE)
		return nil, nil
	}
	found, err := certain.Unreachable(ctx, paints, s.problem.Surface, s.problem.Light, target.Lab, target.Tolerance,
		certain.Options{Cells: cells, Near: []colour.Lab{near.Lab}})
	if err != nil {
		return nil, err
	}
	if *c.unsettled = reason(found, cells); *c.unsettled != "" {
		return nil, ctx.Err()
	}
	asked := check.Claim{Paints: paints, Surface: s.problem.Surface, Light: s.problem.Light.Name, Target: target.Lab, Tolerance: target.Tolerance}
	if !reflect.DeepEqual(found.Certificate.Claim, asked) {
		return nil, errClaim
	}
	if err := found.Certificate.Verify(ctx); err != nil {
		return nil, err
	}
	return found.Certificate, nil
}

// nearestOfAny is the nearest mix of any number of the paints, and whether it is
// within the target's tolerance: then nothing can be proved.
func (s *Session) nearestOfAny(paints []film.Paint, t int) (gamut.Mix, bool, error) {
	m, err := gamut.NewMixer(paints, gamut.Options{Surface: s.problem.Surface, Light: s.problem.Light, PaintsPerMix: -1})
	if err != nil {
		return gamut.Mix{}, false, err
	}
	target := &s.problem.Targets[t]
	mix, within := m.Within(target.Lab, gamut.FullSet(len(paints)), target.Tolerance, gamut.Search)
	return mix, within, nil
}

// reason says why no proof was found; empty: one was.
func reason(r *certain.Result, cells int) string {
	switch r.Verdict {
	case certain.Certified:
		return ""
	case certain.Refuted:
		return fmt.Sprintf("a mix of the other tubes comes within ΔE00 %.2f", r.DE)
	}
	return fmt.Sprintf("the proof was given up after %d cells: more may settle it", cmp.Or(cells, certain.DefaultCells))
}

var errClaim = errors.New("solver: internal: a certificate proves something else than was asked")

func (s *Session) paints(tubes gamut.Set) (out []film.Paint) {
	for _, i := range tubes.Members() {
		out = append(out, s.box.tubes[i].Paint)
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
