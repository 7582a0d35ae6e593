package repaint

import (
	"context"
	"image"

	"fewtubes/gamut/colour"
)

// Image is the painting in the photograph's own size, laid on white where that is
// transparent.
func (p *Painting) Image(ctx context.Context) (*image.RGBA, error) {
	img := p.of.own()
	return img, p.draw(ctx, img, 0, p.painted)
}

// Greys are the values of the painting: L* as equal channels.
func (p *Painting) Greys(ctx context.Context) (*image.RGBA, error) {
	greys := make([]uint8, len(p.rgb))
	err := inPieces(ctx, len(greys), func(i int) { greys[i] = colour.Lab{L: p.lab(i).L}.SRGB().RGB8()[0] })
	if err != nil {
		return nil, err
	}
	img := p.of.own()
	return img, p.draw(ctx, img, 0, func(i uint32, _, _ int) [3]uint8 { return [3]uint8{greys[i], greys[i], greys[i]} })
}

// Beside is the photograph, as it is, and the painting on its right.
func (p *Painting) Beside(ctx context.Context) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rect(0, 0, 2*p.of.Whole.W, p.of.Whole.H))
	if err := p.draw(ctx, img, 0, p.seen); err != nil {
		return nil, err
	}
	return img, p.draw(ctx, img, p.of.Whole.W, p.painted)
}

// painted and seen are a code, by its place, as the painting and the photograph
// show it.
func (p *Painting) painted(i uint32, _, _ int) [3]uint8 { return p.rgb[i] }

func (p *Painting) seen(i uint32, _, _ int) [3]uint8 {
	code := p.of.codes[i]
	if p.of.Whole.IsSRGB() {
		return [3]uint8{uint8(code >> 16), uint8(code >> 8), uint8(code)}
	}
	return p.of.Whole.Light(uint8(code>>16), uint8(code>>8), uint8(code)).SRGB().RGB8()
}

// draw fills the photograph's pixels in, from a column on.
func (p *Painting) draw(ctx context.Context, img *image.RGBA, from int, of func(i uint32, x, y int) [3]uint8) error {
	return p.of.eachRow(ctx, func() func(y int, row []uint8) {
		return func(y int, row []uint8) {
			dst := img.Pix[img.PixOffset(from, y):]
			for x := range p.of.Whole.W {
				rgb, alpha := of(p.of.index[codeOf(row[4*x:])], x, y), row[4*x+3]
				if alpha != 255 {
					rgb = onWhite(rgb, float64(alpha)/255)
				}
				dst[4*x], dst[4*x+1], dst[4*x+2], dst[4*x+3] = rgb[0], rgb[1], rgb[2], 255
			}
		}
	})
}

// onWhite lays a colour on white in linear light.
func onWhite(rgb [3]uint8, cover float64) [3]uint8 {
	c := colour.SRGB{R: float64(rgb[0]) / 255, G: float64(rgb[1]) / 255, B: float64(rgb[2]) / 255}.Linear()
	on := func(v float64) float64 { return 1 - cover + float64(cover*v) }
	return colour.LinearRGB{R: on(c.R), G: on(c.G), B: on(c.B)}.SRGB().RGB8()
}
