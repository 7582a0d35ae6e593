package values

import (
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"math"
	"slices"

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
	plain, flat := c.Plans()
	return board(w, h, [][]field{{
		{"reference, values", c.Reference.Image()},
		{"painting, values", c.Painting.Image()},
		{"painting lighter (orange) or darker (blue)", c.differences()},
	}, {
		{fmt.Sprintf("reference in %d values", len(c.Plan.Levels)), plain.Image()},
		{"painting in the same", flat.Image()},
		{"value 0..10, part of reference and of painting", c.Plan.ladder(w, h, c.ReferenceShares, c.PaintingShares)},
	}})
}

// PlanBoard is a picture and the ways to part it into few values, each above its
// ladder.
func PlanBoard(g Grey, plans []Alternative) image.Image {
	above := []field{{"values", g.Image()}}
	below := []field{{"how much there is of each value, lightest above", g.histogram()}}
	for _, a := range plans {
		above = append(above, field{fmt.Sprintf("%s, %d values", a.Name, len(a.Plan.Levels)), a.Plan.Flatten(g).Image()})
		below = append(below, field{fmt.Sprintf("largest dark %.0f %%, largest light %.0f %%", 100*a.Dark, 100*a.Light), a.Plan.ladder(g.W, g.H, a.Shares)})
	}
	return board(g.W, g.H, [][]field{above, below})
}

// histogram draws a bar for each value, lightest above.
func (g Grey) histogram() image.Image {
	const bins = 50
	img := image.NewRGBA(image.Rect(0, 0, g.W, g.H))
	draw.Draw(img, img.Bounds(), image.NewUniform(color.Gray{200}), image.Point{}, draw.Src)
	var count [bins]int
	for _, l := range g.L {
		count[min(max(int(l*bins/100), 0), bins-1)]++
	}
	most := slices.Max(count[:])
	for k, n := range count {
		top := (bins - 1 - k) * g.H / bins
		bar := image.Rect(0, top, n*g.W/max(most, 1), (bins-k)*g.H/bins)
		draw.Draw(img, bar, image.NewUniform(color.Gray{shade((float64(k) + 0.5) * 100 / bins)}), image.Point{}, draw.Src)
	}
	return img
}

// field is one picture of a board with what stands above it.
type field struct {
	label string
	img   image.Image
}

// board lays out rows of fields of w by h pixels.
func board(w, h int, rows [][]field) image.Image {
	b := image.NewRGBA(image.Rect(0, 0, len(rows[0])*(w+gutter)+gutter, len(rows)*(h+line+gutter)+gutter))
	draw.Draw(b, b.Bounds(), image.NewUniform(color.Gray{236}), image.Point{}, draw.Src)
	for row, fields := range rows {
		for column, f := range fields {
			p := image.Pt(gutter+column*(w+gutter), gutter+line+row*(h+line+gutter))
			draw.Draw(b, image.Rectangle{p, p.Add(image.Pt(w, h))}, f.img, image.Point{}, draw.Src)
			label(b, p.Add(image.Pt(0, -5)), f.label, color.Black)
		}
	}
	return b
}

// Image is the picture in greys.
func (g Grey) Image() image.Image {
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

// ladder shows the levels, lightest above, with bars for the share of each in
// one picture after the other.
func (p Plan) ladder(w, h int, shares ...[]float64) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	n := len(p.Levels)
	for k, level := range p.Levels {
		top := (n - 1 - k) * h / n
		field := image.Rect(0, top, w/4, top+h/n)
		draw.Draw(img, field, image.NewUniform(color.Gray{shade(level)}), image.Point{}, draw.Src)
		for j, of := range shares {
			y := top + h/n*(1+2*j)/(2*len(shares)) - 6
			bar := image.Rect(w/4+10, y, w/4+10+int(of[k]*float64(w/2)), y+12)
			draw.Draw(img, bar, image.NewUniform(color.Gray{uint8(60 + 90*j)}), image.Point{}, draw.Src)
			label(img, image.Pt(bar.Max.X+6, y+11), fmt.Sprintf("%.0f %%", 100*of[k]), color.Black)
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

// FlatBoard is a picture and its repainting, of one size, in n flat values of the
// first.
func FlatBoard(picture, repainted Grey, n int) image.Image {
	plan := NewPlan(picture, n)
	return board(picture.W, picture.H, [][]field{{
		{fmt.Sprintf("photograph in %d values", len(plan.Levels)), plan.Flatten(picture).Image()},
		{"repainted, in the same", plan.Flatten(repainted).Image()},
	}})
}
