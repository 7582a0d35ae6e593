package check

import (
	"errors"

	"fewtubes/gamut/colour"
)

// StepsHold goes through the steps alone, in intervals with rationals as a last
// resort, but those from first to last in rationals from the start.
func (c *Certificate) StepsHold(first, last int) error {
	if err := c.sane(); err != nil {
		return err
	}
	light, err := colour.ParseLight(c.Light)
	if err != nil {
		return err
	}
	v := newVerifier(c, light)
	for i := range c.Steps {
		v.plain = first <= i && i <= last
		if err := v.step(&c.Steps[i]); err != nil {
			return err
		}
	}
	if len(v.open) > 0 {
		return errors.New("cells are left open")
	}
	return nil
}
