package check

import (
	"context"

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
	v := newVerifier(c, light, free(context.Background()))
	for i := range c.Steps {
		if err := v.next(&c.Steps[i]); err != nil {
			return err
		}
	}
	return v.end()
}
