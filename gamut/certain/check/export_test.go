package check

import (
	"errors"

	"fewtubes/gamut/colour"
)

// StepsHold goes through the steps alone, not the faces.
func (c *Certificate) StepsHold() error {
	if err := c.sane(); err != nil {
		return err
	}
	light, err := colour.ParseLight(c.Light)
	if err != nil {
		return err
	}
	v := newVerifier(c, light)
	for i := range c.Steps {
		if err := v.step(&c.Steps[i]); err != nil {
			return err
		}
	}
	if len(v.open) > 0 {
		return errors.New("cells are left open")
	}
	return nil
}
