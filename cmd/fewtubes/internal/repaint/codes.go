package repaint

import (
	"context"
	"image"
	"runtime"
	"sync"
	"sync/atomic"

	"fewtubes/cmd/fewtubes/internal/photo"
	"fewtubes/cmd/fewtubes/internal/scene"
	"fewtubes/cmd/fewtubes/internal/values"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/grid"
)

// Photograph is one to be repainted.
type Photograph struct {
	Whole  *photo.Whole
	Curve  *values.Curve      // moves its values; nil: as seen
	Planes []scene.PlaneShape // may be empty
	Crop   []float64          // what of it is measured, as of scene.Photo

	codes  []uint32 // each code of the pixels once, ascending: red, green, blue
	pixels []uint32 // of each
	index  []uint32 // of a code in codes
}

// allCodes are those of 8 bits a channel.
const allCodes = 1 << 24

// somePixels is the number of pixels after which the context is looked at.
const somePixels = 1 << 14

// Look finds the codes of the photograph and stands it upright, or gives up with the
// context's error.
func (p *Photograph) Look(ctx context.Context) error {
	if err := p.Whole.Upright(ctx); err != nil {
		return err
	}
	p.index = make([]uint32, allCodes)
	err := p.eachRow(ctx, func() func(y int, row []uint8) {
		return func(_ int, row []uint8) {
			for ; len(row) > 0; row = row[4:] {
				atomic.AddUint32(&p.index[codeOf(row)], 1)
			}
		}
	})
	for code, n := range p.index {
		if n != 0 {
			p.index[code] = uint32(len(p.codes))
			p.codes, p.pixels = append(p.codes, uint32(code)), append(p.pixels, n)
		}
	}
	return err
}

func codeOf(pixel []uint8) uint32 {
	return uint32(pixel[0])<<16 | uint32(pixel[1])<<8 | uint32(pixel[2])
}

// lab is the colour of a code as it is to be painted.
func (p *Photograph) lab(code uint32) colour.Lab {
	c := p.Whole.Light(uint8(code>>16), uint8(code>>8), uint8(code)).Lab()
	if p.Curve != nil {
		c.L = p.Curve.At(c.L)
	}
	return c
}

// Region is where in CIELAB the photograph has colours.
func (p *Photograph) Region(ctx context.Context) (*grid.Region, error) {
	r := grid.NewRegion()
	for i, code := range p.codes {
		if i%somePixels == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		r.Add(p.lab(code))
	}
	return r, nil
}

// eachRow hands all rows, four bytes a pixel, to the processors in bands from above,
// each with a function of its own, until the context ends.
func (p *Photograph) eachRow(ctx context.Context, begin func() func(y int, row []uint8)) error {
	bands := min(runtime.GOMAXPROCS(0), p.Whole.H)
	var all sync.WaitGroup
	for n := range bands {
		take := begin()
		all.Go(func() {
			read, row := p.Whole.Rows(), make([]uint8, 4*p.Whole.W)
			for y := n * p.Whole.H / bands; y < (n+1)*p.Whole.H/bands && ctx.Err() == nil; y++ {
				read(y, row)
				take(y, row)
			}
		})
	}
	all.Wait()
	return ctx.Err()
}

// own is a picture of the photograph's size.
func (p *Photograph) own() *image.RGBA {
	return image.NewRGBA(image.Rect(0, 0, p.Whole.W, p.Whole.H))
}
