package curves

import (
	"bytes"
	"fmt"
	"html/template"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"strings"
	"sync"

	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/math/fixed"
)

// drawing is a chart of bars, rings and words, written as SVG or painted as PNG.
// Its unit is a pixel of a screen at arm's length (1/96 inch), from the top left.
type drawing struct {
	width, height float64
	marks         []mark
}

// mark is one thing drawn.
type mark interface {
	moved(right float64) mark
	svg(b *strings.Builder)
	paint(img *image.Gray)
}

// ink is a shade, and the class that a page gives it its own shade by.
type ink struct {
	class string
	shade uint8
}

var (
	dark     = ink{"ink", 0x1c}
	soft     = ink{"faint", 0x66}
	hairline = ink{"rule", 0xdc}
)

func (k ink) String() string {
	return fmt.Sprintf(`class="%s" fill="#%[2]x%[2]x%[2]x"`, k.class, k.shade)
}

func (d *drawing) add(marks ...mark) { d.marks = append(d.marks, marks...) }

// beside puts another drawing to the right of this one.
func (d *drawing) beside(other *drawing) *drawing {
	out := &drawing{d.width + other.width, max(d.height, other.height), d.marks}
	for _, m := range other.marks {
		out.add(m.moved(d.width))
	}
	return out
}

// svg is the drawing for a page, whose style it takes.
func (d *drawing) svg(label string) template.HTML {
	return template.HTML(d.within(fmt.Sprintf(`class="chart panel" role="img" aria-label="%s"`, template.HTMLEscapeString(label))))
}

// svgFile is the drawing as a file of its own.
func (d *drawing) svgFile() []byte {
	return []byte(`<?xml version="1.0" encoding="UTF-8"?>` + "\n" +
		d.within(fmt.Sprintf(`xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" font-family="system-ui, sans-serif"`, d.width, d.height)) + "\n")
}

func (d *drawing) within(attributes string) string {
	var b strings.Builder
	fmt.Fprintf(&b, "<svg %s viewBox=\"0 0 %.0f %.0f\">\n", attributes, d.width, d.height)
	for _, m := range d.marks {
		m.svg(&b)
	}
	b.WriteString("</svg>")
	return b.String()
}

// pixels is how many of a PNG lie along one unit; two print sharply at 15 cm.
const pixels = 2

// png paints the drawing on white.
func (d *drawing) png() ([]byte, error) {
	img := image.NewGray(image.Rect(0, 0, int(pixels*d.width), int(pixels*d.height)))
	draw.Draw(img, img.Bounds(), image.White, image.Point{}, draw.Src)
	for _, m := range d.marks {
		m.paint(img)
	}
	var b bytes.Buffer
	err := png.Encode(&b, img)
	return b.Bytes(), err
}

// bar is a filled rectangle, or a line across or down.
type bar struct {
	x, y, w, h float64
	ink        ink
}

func (m bar) moved(right float64) mark { m.x += right; return m }

func (m bar) svg(b *strings.Builder) {
	fmt.Fprintf(b, "<rect x=\"%.1f\" y=\"%.1f\" width=\"%.1f\" height=\"%.1f\" %s/>\n", m.x, m.y, m.w, m.h, m.ink)
}

func (m bar) paint(img *image.Gray) {
	at := func(v float64) int { return int(math.Round(pixels * v)) }
	x, y := at(m.x), at(m.y)
	box := image.Rect(x, y, x+max(1, at(m.w)), y+max(1, at(m.h)))
	draw.Draw(img, box, image.NewUniform(color.Gray{m.ink.shade}), image.Point{}, draw.Src)
}

// ring is a disc, or a circle where inner is not 0.
type ring struct {
	x, y, outer, inner float64
	ink                ink
}

func (m ring) moved(right float64) mark { m.x += right; return m }

func (m ring) svg(b *strings.Builder) {
	fmt.Fprintf(b, `<path fill-rule="evenodd" d="`)
	for _, r := range []float64{m.outer, m.inner} {
		if r > 0 {
			fmt.Fprintf(b, "M%.1f %.1fa%[3]g %[3]g 0 1 0 %[4]g 0a%[3]g %[3]g 0 1 0 -%[4]g 0", m.x-r, m.y, r, 2*r)
		}
	}
	fmt.Fprintf(b, "\" %s/>\n", m.ink)
}

// Paint counts, in whole numbers, how much of each pixel the ring covers.
func (m ring) paint(img *image.Gray) {
	const fine = 8 // points along one pixel
	at := func(v float64) int { return int(math.Round(fine * pixels * v)) }
	x, y, outer, inner := at(m.x), at(m.y), at(m.outer), at(m.inner)
	for py := (y - outer) / fine; py <= (y+outer)/fine; py++ {
		for px := (x - outer) / fine; px <= (x+outer)/fine; px++ {
			covered := 0
			for k := range fine * fine {
				// Twice the distance, since the points lie half a step in.
				dx, dy := 2*(px*fine+k%fine-x)+1, 2*(py*fine+k/fine-y)+1
				if r2 := dx*dx + dy*dy; r2 < 4*outer*outer && r2 >= 4*inner*inner {
					covered++
				}
			}
			under := int(img.GrayAt(px, py).Y)
			img.SetGray(px, py, color.Gray{uint8(under + (int(m.ink.shade)-under)*covered/(fine*fine))})
		}
	}
}

// text is a line of words; anchor is "start", "middle" or "end".
type text struct {
	x, y, size float64
	anchor     string
	words      string
	ink        ink
}

func (m text) moved(right float64) mark { m.x += right; return m }

func (m text) svg(b *strings.Builder) {
	fmt.Fprintf(b, "<text x=\"%.1f\" y=\"%.1f\" font-size=\"%g\" text-anchor=\"%s\" %s>%s</text>\n",
		m.x, m.y, m.size, m.anchor, m.ink, template.HTMLEscapeString(m.words))
}

func (m text) paint(img *image.Gray) {
	d := font.Drawer{Dst: img, Src: image.NewUniform(color.Gray{m.ink.shade}), Face: truetype.NewFace(lettering(), &truetype.Options{Size: pixels * m.size})}
	at := func(v float64) int { return int(math.Round(pixels * v)) }
	d.Dot = fixed.P(at(m.x), at(m.y))
	switch width := d.MeasureString(m.words); m.anchor {
	case "middle":
		d.Dot.X -= width / 2
	case "end":
		d.Dot.X -= width
	}
	d.DrawString(m.words)
}

// lettering is filled in whole numbers by this package; that of golang.org/x/image
// works in floating point, where processors differ.
var lettering = sync.OnceValue(func() *truetype.Font {
	f, err := truetype.Parse(goregular.TTF)
	if err != nil {
		panic("report: " + err.Error()) // it comes with the program
	}
	return f
})
