package repaint

import (
	"context"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"sync/atomic"

	"fewtubes/gamut/colour"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
)

// beyond are the differences over the tolerance, CIEDE2000, from which the hatching
// is the next denser one.
var beyond = []float64{0, 2, 5}

// Misses is the photograph in pale greys, hatched where the painting misses it,
// denser where it is farther off, with a scale on the right. How far that is is averaged
// over squares as wide as a broad brush: specks hatch nothing.
func (p *Painting) Misses(ctx context.Context, tolerance float64) (*image.RGBA, error) {
	w, h := p.of.Whole.W, p.of.Whole.H
	scale := p.scale(tolerance, p.unit())
	b := scale.Bounds().Size()
	img := image.NewRGBA(image.Rect(0, 0, w+b.X, max(h, b.Y)))
	draw.Draw(img, img.Bounds(), image.NewUniform(pale), image.Point{}, draw.Src)
	draw.Draw(img, image.Rect(w, 0, w+b.X, b.Y), scale, image.Point{}, draw.Src)
	return img, p.hatch(ctx, img, tolerance)
}

// Hatched is Misses without the scale: a picture of the photograph's own size.
func (p *Painting) Hatched(ctx context.Context, tolerance float64) (*image.RGBA, error) {
	img := p.of.own()
	return img, p.hatch(ctx, img, tolerance)
}

// unit is how wide a line of the hatching is, pixels.
func (p *Painting) unit() int { return max(1, (max(p.of.Whole.W, p.of.Whole.H)+400)/800) }

func (p *Painting) hatch(ctx context.Context, img *image.RGBA, tolerance float64) error {
	greys := make([]uint8, len(p.off))
	err := inPieces(ctx, len(p.off), func(i int) { greys[i] = grey(p.of.lab(p.of.codes[i]).L) })
	if err != nil {
		return err
	}
	stroke := (p.of.Whole.W + strokes - 1) / strokes
	steps, err := p.steps(ctx, tolerance, stroke)
	if err != nil {
		return err
	}
	unit := p.unit()
	return p.draw(ctx, img, 0, func(i uint32, x, y int) [3]uint8 {
		if hatched(steps[y/stroke][x/stroke], x/unit, y/unit) {
			return [3]uint8{}
		}
		return [3]uint8{greys[i], greys[i], greys[i]}
	})
}

// strokes of a broad brush go across a picture.
const strokes = 100

// steps is which hatching each square of a side gets.
func (p *Painting) steps(ctx context.Context, tolerance float64, side int) ([][]int, error) {
	w, h := p.of.Whole.W, p.of.Whole.H
	across, down := (w+side-1)/side, (h+side-1)/side
	off, pixels := make([]int64, across*down), make([]int64, across*down)
	err := p.of.eachRow(ctx, func() func(y int, row []uint8) {
		return func(y int, row []uint8) {
			for at := range across {
				var sum, n int64
				for x := at * side; x < min((at+1)*side, w); x++ {
					if row[4*x+3] >= 128 {
						sum, n = sum+int64(p.off[p.of.index[codeOf(row[4*x:])]]), n+1
					}
				}
				k := y/side*across + at
				atomic.AddInt64(&off[k], sum)
				atomic.AddInt64(&pixels[k], n)
			}
		}
	})
	out := make([][]int, down)
	for k, n := range pixels {
		s := 0
		if n > 0 {
			s = step(float64(off[k])/float64(100*n), tolerance)
		}
		out[k/across] = append(out[k/across], s)
	}
	return out, err
}

var pale = color.Gray{236}

// grey is a value made pale, so that black lines stand out on it.
func grey(l float64) uint8 { return colour.Lab{L: 55 + float64(0.42*l)}.SRGB().RGB8()[0] }

// step is which hatching a difference gets; 0 is none.
func step(off, tolerance float64) (k int) {
	for k < len(beyond) && off > tolerance+beyond[k] {
		k++
	}
	return k
}

// hatched reports whether a place lies on a line of a step: wide apart, half as wide,
// crossed.
func hatched(step, x, y int) bool {
	switch step {
	case 0:
		return false
	case 1:
		return (x+y)%8 == 0
	case 2:
		return (x+y)%4 == 0
	}
	return (x+y)%4 == 0 || (x-y)&3 == 0
}

// scale is each hatching with what it says.
func (p *Painting) scale(tolerance float64, unit int) image.Image {
	const side, line, edge, width = 32, 40, 8, 128
	img := image.NewRGBA(image.Rect(0, 0, width, edge+line*(len(beyond)+1)+20))
	draw.Draw(img, img.Bounds(), image.NewUniform(pale), image.Point{}, draw.Src)
	write := func(x, y int, text string) {
		d := font.Drawer{Dst: img, Src: image.Black, Face: basicfont.Face7x13, Dot: fixed.P(x, y)}
		d.DrawString(text)
	}
	write(edge, edge+12, "Off by (dE00)")
	for k := range len(beyond) + 1 {
		top := edge + 20 + line*k
		for y := range side {
			for x := range side {
				c := color.Gray{grey(60)}
				if hatched(k, x, y) {
					c = color.Gray{}
				}
				img.Set(edge+x, top+y, c)
			}
		}
		text := "over " + figure(tolerance+beyond[max(k-1, 0)])
		if k == 0 {
			text = "up to " + figure(tolerance)
		}
		write(edge+side+6, top+20, text)
	}
	if unit == 1 {
		return img
	}
	size := img.Bounds().Size().Mul(unit)
	large := image.NewRGBA(image.Rectangle{Max: size})
	xdraw.NearestNeighbor.Scale(large, large.Bounds(), img, img.Bounds(), draw.Src, nil)
	return large
}

func figure(v float64) string { return fmt.Sprintf("%.4g", v) }
