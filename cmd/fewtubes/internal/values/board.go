package values

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"

	"fewtubes/gamut/colour"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
)

const (
	gutter = 16 // pixels around each field of the board
	line   = 18 // for a label
)

// Board is the comparison as a picture: reference and painting in greys above,
// in flat values below, beside them where the painting is lighter or darker and
// the ladder of flat values with what each takes up.
func (c *Comparison) Board() image.Image {
	w, h := c.Reference.W, c.Reference.H
	b := image.NewRGBA(image.Rect(0, 0, 3*w+4*gutter, 2*(h+line)+3*gutter))
	draw.Draw(b, b.Bounds(), image.NewUniform(color.Gray{236}), image.Point{}, draw.Src)
	at := func(column, row int) image.Point {
		return image.Pt(gutter+column*(w+gutter), gutter+line+row*(h+line+gutter))
	}
	plain, flat := c.Plans()
	for _, f := range []struct {
		column, row int
		label       string
		img         image.Image
	}{
		{0, 0, "reference, values", c.Reference.image()},
		{1, 0, "painting, values", c.Painting.image()},
		{2, 0, "painting lighter (orange) or darker (blue)", c.differences()},
		{0, 1, fmt.Sprintf("reference in %d values", len(c.Plan.Levels)), plain.image()},
		{1, 1, "painting in the same", flat.image()},
		{2, 1, "value 0..10, part of reference and of painting", c.ladder(w, h)},
	} {
		p := at(f.column, f.row)
		draw.Draw(b, image.Rectangle{p, p.Add(image.Pt(w, h))}, f.img, image.Point{}, draw.Src)
		label(b, p.Add(image.Pt(0, -5)), f.label, color.Black)
	}
	return b
}

func (g Grey) image() image.Image {
	img := image.NewGray(image.Rect(0, 0, g.W, g.H))
	for i, l := range g.L {
		img.Pix[i] = shade(l)
	}
	return img
}

// shade is the grey of a value, coded for a screen.
func shade(l float64) uint8 { return colour.Lab{L: l}.SRGB().RGB8()[0] }

// fullTint is the difference in L* that is shown in full colour.
const fullTint = 30

// differences tints the reference's greys, made pale, by what the painting does.
func (c *Comparison) differences() image.Image {
	a, b := c.Reference.Blur(2), c.Painting.Blur(2)
	img := image.NewRGBA(image.Rect(0, 0, a.W, a.H))
	for i := range a.L {
		d := min(max((b.L[i]-a.L[i])/fullTint, -1), 1)
		tone := colour.LCh{L: 70 + float64(0.25*a.L[i]) - float64(30*math.Abs(d)), C: 60 * math.Abs(d), H: 60}
		if d < 0 {
			tone.H = 260
		}
		v := tone.Lab().SRGB().RGB8()
		img.SetRGBA(i%a.W, i/a.W, color.RGBA{v[0], v[1], v[2], 255})
	}
	return img
}

// ladder shows the levels, lightest above, with bars for their shares.
func (c *Comparison) ladder(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	n := len(c.Plan.Levels)
	for k, level := range c.Plan.Levels {
		top := (n - 1 - k) * h / n
		field := image.Rect(0, top, w/4, top+h/n)
		draw.Draw(img, field, image.NewUniform(color.Gray{shade(level)}), image.Point{}, draw.Src)
		for j, share := range []float64{c.ReferenceShares[k], c.PaintingShares[k]} {
			y := top + h/n*(1+2*j)/4 - 6
			bar := image.Rect(w/4+10, y, w/4+10+int(share*float64(w/2)), y+12)
			draw.Draw(img, bar, image.NewUniform(color.Gray{uint8(60 + 90*j)}), image.Point{}, draw.Src)
			label(img, image.Pt(bar.Max.X+6, y+11), fmt.Sprintf("%.0f %%", 100*share), color.Black)
		}
		ink := color.Color(color.White)
		if level > 55 {
			ink = color.Black
		}
		label(img, image.Pt(8, top+h/n/2+4), fmt.Sprintf("%.1f", level/10), ink)
	}
	return img
}

func label(dst draw.Image, at image.Point, text string, ink color.Color) {
	d := font.Drawer{Dst: dst, Src: image.NewUniform(ink), Face: basicfont.Face7x13, Dot: fixed.P(at.X, at.Y)}
	d.DrawString(text)
}
