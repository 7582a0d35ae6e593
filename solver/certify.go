package solver

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"fewtubes/gamut/certain/check"
	"fewtubes/gamut/film"
	"fewtubes/gamut/set"
	"fewtubes/solver/internal/certify"
	"fewtubes/solver/internal/choice"
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
// stays Searched and says why (Unsettled). cells
// is the budget of each proof, all orders together (0: certain.DefaultCells).
// When ctx ends, what is proved by then is kept. watch, which may be nil, is told
// after each, by one goroutine at a time.
func (s *Session) Certify(ctx context.Context, a *Answer, cells int, watch func(done, all int)) ([]Proof, error) {
	r, err := s.index.rules(&a.Limits)
	if err != nil {
		return nil, err
	}
	subject, beyond := s.subject(), s.targetsOf(a.Unreachable)
	needs, err := s.asked(a.Needs)
	if err != nil {
		return nil, err
	}
	if a.Minimum.Proof == Searched {
		wider, err := subject.Wider(ctx, a.behind, r, a.Minimum.Tubes, needs, beyond)
		if err != nil {
			return nil, err
		}
		if wider != nil {
			needs, a.Needs = wider, s.needs(wider)
		}
	}
	about, misses, err := subject.Minimum(ctx, r, a.Minimum.Tubes, needs, beyond, cells, watch)
	proofs := s.proofs(slices.Concat(about, misses))
	for i, c := range misses {
		s.settle(c, &a.Unreachable[i].Proof, &a.Unreachable[i].Unsettled)
	}
	copy(a.Needs, s.settled(about))
	if a.Minimum.Proof == Searched && certified(a.Needs) {
		a.Minimum.Proof = Certified
	}
	if err != nil || len(a.NeedsToBuy) == 0 {
		return proofs, err
	}
	needs, err = s.asked(a.NeedsToBuy)
	if err != nil {
		return proofs, err
	}
	about, _, err = subject.Minimum(ctx, r.WithNew(r.New, r.NewMost-1), anySize, needs, nil, cells, watch)
	copy(a.NeedsToBuy, s.settled(about))
	if certified(a.NeedsToBuy) {
		a.ToBuy.Proof = Certified
	}
	return append(proofs, s.proofs(about)...), err
}

// anySize asks that no palette of any size meets the needs.
const anySize = 0

func certified(needs []Need) bool {
	return len(needs) > 0 && !slices.ContainsFunc(needs, func(n Need) bool { return n.Proof != Certified })
}

// settled are the needs that claims are about, in their order, and what became of
// each.
func (s *Session) settled(about []*certify.Claim) (out []Need) {
	slices.SortStableFunc(about, func(c, d *certify.Claim) int {
		return cmp.Or(cmp.Compare(c.Target, d.Target), slices.Compare(c.OneOf.Members(), d.OneOf.Members()))
	})
	for _, c := range about {
		n := Need{Target: s.problem.Targets[c.Target].Name, OneOf: s.index.ids(c.OneOf), BestDE: c.BestDE}
		s.settle(c, &n.Proof, &n.Unsettled)
		out = append(out, n)
	}
	return out
}

// asked are needs by index.
func (s *Session) asked(needs []Need) (out []choice.Need, err error) {
	for _, n := range needs {
		oneOf, err := s.index.find("need", n.OneOf)
		if err != nil {
			return nil, err
		}
		out = append(out, choice.Need{Target: s.targetIndex(n.Target), OneOf: oneOf, Best: n.BestDE})
	}
	return out, nil
}

// CertifyMisses is Certify for what a palette as it stands misses.
func (s *Session) CertifyMisses(ctx context.Context, palette []string, missed []Miss, cells int, watch func(done, all int)) ([]Proof, error) {
	held, err := s.index.find("palette", palette)
	if err != nil {
		return nil, err
	}
	claims, err := s.subject().Misses(ctx, held, s.targetsOf(missed), cells, watch)
	for i, c := range claims {
		s.settle(c, &missed[i].Proof, &missed[i].Unsettled)
	}
	return s.proofs(claims), err
}

// subject is what certificates are about.
func (s *Session) subject() *certify.Subject {
	p := &s.problem
	out := &certify.Subject{Stakes: s.stakes(), Surface: p.Surface, Light: p.Light, PaintsPerMix: p.PaintsPerMix}
	out.Paints = s.paints(set.Full(len(p.Tubes)))
	for i := range p.Targets {
		out.Targets = append(out.Targets, p.Targets[i].Lab)
	}
	return out
}

// settle says what became of a claim.
func (s *Session) settle(c *certify.Claim, proof, unsettled *string) {
	if *proof = Searched; c.Certified {
		*proof = Certified
	}
	*unsettled = s.unsettled(c)
}

// unsettled says why a claim is not proved; empty: it is.
func (s *Session) unsettled(c *certify.Claim) string {
	switch u := &c.Unsettled; u.Kind {
	case certify.MixLimit:
		return fmt.Sprintf("only the limit of %d paints in a mix puts it out of reach: a mix of %d comes within ΔE00 %.2f, so it is no theorem about mixing",
			s.problem.PaintsPerMix, u.Paints, u.DE)
	case certify.NoQuestion:
		return u.Err.Error()
	case certify.Refuted:
		return fmt.Sprintf("a mix of the other tubes comes within ΔE00 %.2f", u.DE)
	case certify.Unbounded:
		return fmt.Sprintf("a tolerance of ΔE00 %.2f around it is too wide for the proof, so it rests on the search; a tighter one may be proved", s.problem.Targets[c.Target].Tolerance)
	case certify.Refused:
		return "the proof that was found is too narrow for the checker, so it rests on the search"
	case certify.GivenUp:
		return fmt.Sprintf("the proof was given up after %d cells: more may settle it", u.Cells)
	}
	return ""
}

func (s *Session) proofs(claims []*certify.Claim) (out []Proof) {
	for _, c := range claims {
		if c.Certificate != nil {
			p := Proof{Target: s.problem.Targets[c.Target].Name, Certificate: c.Certificate}
			if c.OneOf != nil {
				p.Without = s.index.ids(c.OneOf)
			}
			out = append(out, p)
		}
	}
	return out
}

// paints are those of some tubes.
func (s *Session) paints(tubes set.Set) (out []film.Paint) {
	for _, i := range tubes.Members() {
		out = append(out, s.problem.Tubes[i].Paint)
	}
	return out
}

// targetIndex is the index of a target of this session.
func (s *Session) targetIndex(name string) int {
	return slices.IndexFunc(s.problem.Targets, func(t Target) bool { return t.Name == name })
}

func (s *Session) targetsOf(misses []Miss) (out []int) {
	for _, m := range misses {
		out = append(out, s.targetIndex(m.Target))
	}
	return out
}
