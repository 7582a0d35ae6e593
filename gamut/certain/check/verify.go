package check

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"

	"fewtubes/gamut/colour"
)

// ErrProof is wrapped by every refusal of a certificate.
var ErrProof = errors.New("the certificate proves nothing")

// Verify reports whether the certificate proves its claim; nil: it does. Other
// errors than the context's wrap ErrProof.
func (c *Certificate) Verify(ctx context.Context) (err error) {
	defer halt(&err)
	v, err := c.begin(free(ctx))
	for i := 0; i < len(c.Steps) && err == nil; i++ {
		err = v.next(&c.Steps[i])
	}
	if err == nil {
		err = v.end()
	}
	return err
}

// Verify reads a certificate and verifies it as it goes, so that a proof takes no
// room for its steps. What it does is at most so much work, and done in the end.
// Errors are *SyntaxError, ErrWork, the reader's and the context's; others wrap
// ErrProof.
func Verify(ctx context.Context, from io.Reader, most Work) (claim Claim, done Work, err error) {
	m := bounded(ctx, most)
	c := &Certificate{}
	defer func() { claim, done = c.Claim, m.done }()
	defer halt(&err)
	var v *verifier
	begin := func() (err error) {
		if v == nil {
			v, err = c.begin(m)
		}
		return err
	}
	err = c.read(from, func(bytes int) { m.spend(Work(bytes) * perByte) }, func(s *Step) error {
		if err := begin(); err != nil {
			return err
		}
		return v.next(s)
	})
	if err == nil {
		err = begin()
	}
	if err == nil {
		err = v.end()
	}
	return claim, done, err
}

// begin looks at all but the steps.
func (c *Certificate) begin(m *meter) (*verifier, error) {
	if err := c.sane(); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrProof, err)
	}
	light, err := colour.ParseLight(c.Light)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrProof, err)
	}
	if err := c.facesHold(m, light); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrProof, err)
	}
	return newVerifier(c, light, m), nil
}

func (c *Certificate) facesHold(m *meter, light *colour.Light) error {
	switch face, ok := newCovering(c, light).holds(m, c.Tolerance); {
	case ok:
		return nil
	case face < 0:
		return errors.New("the faces may leave out colours within the tolerance")
	default:
		return fmt.Errorf("face %d may leave out colours within the tolerance", face)
	}
}

// next takes the next step of the proof.
func (v *verifier) next(s *Step) error {
	if err := v.step(s); err != nil {
		return fmt.Errorf("%w: step %d: %w", ErrProof, v.taken, err)
	}
	v.taken++
	return nil
}

// end reports what is left to be proved.
func (v *verifier) end() error {
	if len(v.open) > 0 {
		return fmt.Errorf("%w: %d cells are left open", ErrProof, len(v.open))
	}
	return nil
}

// finite reports whether all values are finite and, if so asked, above 0.
func finite(positive bool, values ...float64) bool {
	for _, x := range values {
		if math.IsNaN(x-x) || positive && !(x > 0) {
			return false
		}
	}
	return true
}

// Sane reports what in the claim has no meaning.
func (c *Claim) Sane() error {
	s := c.Surface
	switch {
	case len(c.Paints) == 0:
		return errors.New("there are no paints")
	case !finite(true, c.Tolerance):
		return errors.New("the tolerance is above 0")
	case !(s.K1 >= 0 && s.K1 < 1 && s.K2 >= 0 && s.K2 < 1):
		return errors.New("surface constants lie within 0 and 1")
	case !c.Target.Finite() || c.Target.L < 0 || c.Target.L > 100 || float64(c.Target.A*c.Target.A)+float64(c.Target.B*c.Target.B) > 200*200:
		return errors.New("the target is no surface colour")
	}
	for i := range c.Paints {
		if !finite(true, c.Paints[i].K[:]...) || !finite(true, c.Paints[i].S[:]...) {
			return fmt.Errorf("paint %d: K and S are above 0", i)
		}
	}
	return nil
}

func (c *Certificate) sane() error {
	if err := c.Sane(); err != nil {
		return err
	}
	switch {
	case len(c.Norms) != len(c.Paints) || !finite(true, c.Norms...):
		return errors.New("one norm above 0 per paint is wanted")
	case len(c.Faces) > mostFaces:
		return errors.New("too many faces")
	}
	for j := range c.Faces {
		if !finite(false, c.Faces[j].Normal[:]...) || !finite(false, c.Faces[j].Height) {
			return fmt.Errorf("face %d is not finite", j)
		}
	}
	return nil
}
