package solver

import (
	"context"

	"fewtubes/gamut/certain/check"
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
// follows from needs with more to spare, or from narrow needs that ask for less,
// these take the place of the answer's: they are easier to prove. A need whose
// proof is given up is made to ask for less in other orders. What is proved is
// marked Certified in the answer, the minimum too when every need is; what is not
// stays Searched and says why (Unsettled). limits are those of the answer; cells
// is the budget of each proof, all orders together (0: certain.DefaultCells).
// When ctx ends, what is proved by then is kept. watch, which may be nil, is told
// after each, by one goroutine at a time.
func (s *Session) Certify(ctx context.Context, limits Limits, a *Answer, cells int, watch func(done, all int)) ([]Proof, error) {
	r, err := s.index.rules(&limits)
	if err != nil {
		return nil, err
	}
	if err := s.widen(ctx, r, a); err != nil {
		return nil, err
	}
	p, err := s.newProver(ctx, cells, watch)
	if err != nil {
		return nil, err
	}
	w, err := newWeakening(p, r, a)
	if err != nil {
		return nil, err
	}
	for i := range a.Unreachable {
		m := &a.Unreachable[i]
		p.claim(&claim{target: s.targetIndex(m.Target), tubes: r.Allowed, proof: &m.Proof, unsettled: &m.Unsettled, cells: p.cells})
	}
	proofs, err := p.needs(w, a)
	w.sorted(a)
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
	set, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	p, err := s.newProver(ctx, cells, watch)
	if err != nil {
		return nil, err
	}
	for i := range missed {
		m := &missed[i]
		p.claim(&claim{target: s.targetIndex(m.Target), tubes: set, proof: &m.Proof, unsettled: &m.Unsettled, cells: p.cells})
	}
	err = p.prove(p.claims)
	return p.proofs(), err
}
