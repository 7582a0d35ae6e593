package repaint

import (
	"context"

	"fewtubes/gamut"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/grid"
	"fewtubes/gamut/parallel"
	"fewtubes/gamut/set"
)

// Painting is a photograph repainted.
type Painting struct {
	of   *Photograph
	rgb  [][3]uint8 // of each code
	off  []uint16   // of each code, hundredths of CIEDE2000 to the colour as it is to be painted
	grid *grid.Grid
}

// Paint repaints a photograph that was looked at with all paints of a mixer, or gives
// up with the context's error. The region is that of the photograph.
func (p *Photograph) Paint(ctx context.Context, m *gamut.Mixer, region *grid.Region) (*Painting, error) {
	g, err := grid.New(ctx, m, set.Full(m.Len()), region)
	if err != nil {
		return nil, err
	}
	out := &Painting{of: p, grid: g, rgb: make([][3]uint8, len(p.codes)), off: make([]uint16, len(p.codes))}
	err = inPieces(ctx, len(p.codes), func(i int) {
		c := p.lab(p.codes[i])
		mix, _ := g.Colour(c)
		out.rgb[i] = mix.SRGB().RGB8()
		out.off[i] = hundredths(colour.DE2000(mix, c))
	})
	return out, err
}

// lab is the colour that a code is painted in.
func (p *Painting) lab(i int) colour.Lab {
	c, _ := p.grid.Colour(p.of.lab(p.of.codes[i]))
	return c
}

// Reach tells of each code the painting misses by more than the tolerance whether
// the paints of a mixer, which are at least those of the painting, reach it.
func (p *Painting) Reach(ctx context.Context, m *gamut.Mixer, tolerance float64) ([]bool, error) {
	region, most := grid.NewRegion(), hundredths(tolerance)
	reached := make([]bool, len(p.off))
	var missed []int
	for i, off := range p.off {
		if reached[i] = off <= most; !reached[i] {
			region.Add(p.of.lab(p.of.codes[i]))
			missed = append(missed, i)
		}
	}
	g, err := grid.New(ctx, m, set.Full(m.Len()), region)
	if err != nil {
		return nil, err
	}
	err = inPieces(ctx, len(missed), func(i int) {
		c := p.of.lab(p.of.codes[missed[i]])
		mix, _ := g.Colour(c)
		reached[missed[i]] = hundredths(colour.DE2000(mix, c)) <= most
	})
	return reached, err
}

// mostOff is in hundredths; nothing lies so far off.
const mostOff = 20000

func hundredths(off float64) uint16 { return uint16(min(float64(100*off)+0.5, mostOff)) }

// inPieces is parallel.Each until the context ends.
func inPieces(ctx context.Context, n int, f func(i int)) error {
	const piece = 1 << 10
	parallel.Each((n+piece-1)/piece, func(k int) {
		for i := k * piece; i < min((k+1)*piece, n) && ctx.Err() == nil; i++ {
			f(i)
		}
	})
	return ctx.Err()
}
