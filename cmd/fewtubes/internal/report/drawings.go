package report

import (
	"context"

	"fewtubes/cmd/fewtubes/internal/report/drawn"
	"fewtubes/gamut"
	"fewtubes/gamut/film"
)

// drawing is what is drawn of a palette: its colours, its paints, how they are seen.
func (c *Choice) drawing(p *Palette) (colours []drawn.Colour, paints []film.Paint, sight gamut.Options) {
	for _, t := range p.Targets {
		colours = append(colours, drawn.Colour{Name: t.Name, Lab: t.Lab, Mix: t.MixLab, Reached: t.Reached})
	}
	for _, id := range p.Tubes {
		paints = append(paints, c.tube(id).Paint)
	}
	return colours, paints, gamut.Options{Surface: c.problem.Surface, Light: c.problem.Light, PaintsPerMix: c.PaintsPerMix}
}

// AddSlices draws what the best palette mixes at three values, beside the outline over
// all values. Errors are the context's, or that of a palette that cannot be mixed.
func (c *Choice) AddSlices(ctx context.Context) (err error) {
	if len(c.Palettes) == 0 {
		return nil
	}
	colours, paints, sight := c.drawing(&c.Palettes[0])
	c.slices, err = drawn.Slices(ctx, colours, paints, sight)
	return err
}

// Slices are the drawings AddSlices made.
func (c *Choice) Slices() []drawn.Slice { return c.slices }
