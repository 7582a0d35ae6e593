package check

import (
	"context"
	"errors"
	"fmt"
	"math"

	"fewtubes/gamut/certain/tolerance"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/portable"
)

// ErrProof is wrapped by every refusal of a certificate.
var ErrProof = errors.New("the certificate proves nothing")

const (
	boxes    = 4_000_000 // of Lab, to prove the faces
	maxFaces = 1000
)

// Verify reports whether the certificate proves its claim; nil: it does. Other
// errors than the context's wrap ErrProof.
func (c *Certificate) Verify(ctx context.Context) error {
	if err := c.sane(); err != nil {
		return fmt.Errorf("%w: %w", ErrProof, err)
	}
	light, err := colour.ParseLight(c.Light)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrProof, err)
	}
	err = c.facesHold(ctx, light)
	if err == nil {
		err = newVerifier(c, light).all(ctx)
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err != nil {
		return fmt.Errorf("%w: %w", ErrProof, err)
	}
	return nil
}

func (c *Certificate) facesHold(ctx context.Context, light *colour.Light) error {
	bad, ok := tolerance.Holds(ctx, c.Target, light.White, c.Tolerance, c.Faces, boxes)
	for j := range bad {
		if bad[j] {
			return fmt.Errorf("face %d may leave out colours within the tolerance", j)
		}
	}
	if !ok {
		return errors.New("the faces may leave out colours within the tolerance")
	}
	return nil
}

// all goes through the steps; at the end no cell may be open.
func (v *verifier) all(ctx context.Context) error {
	for i := range v.Steps {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := v.step(&v.Steps[i]); err != nil {
			return fmt.Errorf("step %d: %w", i, err)
		}
	}
	if len(v.open) > 0 {
		return fmt.Errorf("%d cells are left open", len(v.open))
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
	case !c.Target.Finite() || c.Target.L < 0 || c.Target.L > 100 || portable.Hypot(c.Target.A, c.Target.B) > 200:
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
	case len(c.Faces) > maxFaces:
		return errors.New("too many faces")
	}
	for j := range c.Faces {
		if !finite(false, c.Faces[j].Normal[:]...) || !finite(false, c.Faces[j].Height) {
			return fmt.Errorf("face %d is not finite", j)
		}
	}
	return nil
}
