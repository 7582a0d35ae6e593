package sheet

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"image/jpeg"
	"image/png"
	"math"
	"slices"

	"fewtubes/gamut/portable"

	"github.com/go-pdf/fpdf"
)

// Thumbnail is a picture and the marks in it; without a picture its words say why.
type Thumbnail struct {
	Picture image.Image // nil: none
	Words   string
	Marks   []Mark
}

// Mark is the place of a colour, in fractions of the width and the height.
type Mark struct {
	No   int
	X, Y float64
}

// Mark puts a numbered mark for the colour of a place in the list into a picture.
func (t *Thumbnail) Mark(at int, x, y float64) { t.Marks = append(t.Marks, Mark{at + 1, x, y}) }

const (
	markRound = 2.1 // mm
	markType  = 8.0 // pt
)

// thumbnails puts pictures side by side, as high as all of them find room, at most so
// many millimetres, and moves below them.
func (p *press) thumbnails(pictures []Thumbnail, most float64) error {
	wide := 0.0 // of all together at a height of one
	for _, t := range pictures {
		wide += t.shape()
	}
	if wide == 0 {
		return nil
	}
	gaps := 3 * float64(len(pictures)-1)
	height := min(most, (p.inner()-gaps)/wide)
	x := margin
	for _, t := range pictures {
		width := float64(height * t.shape())
		if t.Picture == nil {
			p.frame(x, p.y, width, height)
			p.wrapped(x+2, p.y+2, width-4, markType, t.Words)
		} else if err := p.picture(x, p.y, width, height, t.Picture); err != nil {
			return err
		}
		p.marks(x, p.y, width, height, t.Marks)
		x += width + 3
	}
	p.y += height + 3
	return nil
}

// shape is the width of a picture for a height of one.
func (t *Thumbnail) shape() float64 {
	if t.Picture == nil {
		return 1
	}
	return shapeOf(t.Picture)
}

func shapeOf(img image.Image) float64 {
	size := img.Bounds().Size()
	return min(max(float64(size.X)/float64(size.Y), 0.2), 5)
}

// picture puts a picture on the page: one in greys as it is, one in colours as JPEG.
func (p *press) picture(x, y, w, h float64, img image.Image) error {
	img = p.unlikeOthers(img)
	var data bytes.Buffer
	kind, err := "JPEG", error(nil)
	if _, greys := img.(*image.Gray); greys {
		kind, err = "PNG", png.Encode(&data, img)
	} else {
		err = jpeg.Encode(&data, img, &jpeg.Options{Quality: 88})
	}
	if err != nil {
		return err
	}
	name, options := fmt.Sprint("picture", len(p.widths)), fpdf.ImageOptions{ImageType: kind}
	p.RegisterImageOptionsReader(name, options, &data)
	p.ImageOptions(name, x, y, w, h, false, options, 0, "")
	p.frame(x, y, w, h)
	return p.Error()
}

// unlikeOthers gives a picture a width, in pixels, that no other on the sheet has, by
// repeating its last column: fpdf puts pictures of one width in an order of chance.
func (p *press) unlikeOthers(img image.Image) image.Image {
	size := img.Bounds()
	width := size.Dx()
	for slices.Contains(p.widths, width) {
		width++
	}
	p.widths = append(p.widths, width)
	if width == size.Dx() {
		return img
	}
	var wider draw.Image = image.NewRGBA(image.Rect(0, 0, width, size.Dy()))
	if _, greys := img.(*image.Gray); greys {
		wider = image.NewGray(wider.Bounds())
	}
	for x := range width {
		column := image.Rect(x, 0, x+1, size.Dy())
		draw.Draw(wider, column, img, image.Pt(size.Min.X+min(x, size.Dx()-1), size.Min.Y), draw.Src)
	}
	return wider
}

// spot is a place on the page, mm.
type spot struct{ x, y float64 }

func (a spot) to(b spot) float64 { return portable.Hypot(a.x-b.x, a.y-b.y) }

// marks puts a white disc with its number at each mark, or beside it with a line to it
// where another disc lies.
func (p *press) marks(x, y, w, h float64, marks []Mark) {
	var taken []spot
	for _, m := range marks {
		at := spot{x + float64(m.X*w), y + float64(m.Y*h)}
		taken = append(taken, clear(at, spot{x, y}, spot{x + w, y + h}, taken))
	}
	p.SetDrawColor(0, 0, 0)
	p.SetLineWidth(0.25)
	for i, m := range marks {
		at := spot{x + float64(m.X*w), y + float64(m.Y*h)}
		if taken[i] != at {
			p.Line(at.x, at.y, taken[i].x, taken[i].y)
		}
	}
	for i, m := range marks {
		p.mark(taken[i], m.No)
	}
}

// clear is the place nearest to the one wanted, within a frame, where no disc lies; the
// one wanted where there is none.
func clear(wanted, least, most spot, taken []spot) spot {
	const turns = 16
	for ring := 0.0; ring < 6; ring += 0.5 {
		for turn := range turns {
			sin, cos := portable.Sincos(2 * math.Pi * float64(turn) / turns)
			at := spot{wanted.x + float64(ring*2*markRound*cos), wanted.y + float64(ring*2*markRound*sin)}
			inside := at.x >= least.x && at.x <= most.x && at.y >= least.y && at.y <= most.y
			if inside && !slices.ContainsFunc(taken, func(other spot) bool { return at.to(other) < 2.1*markRound }) {
				return at
			}
		}
	}
	return wanted
}

// mark is a white disc with a number in it.
func (p *press) mark(at spot, no int) {
	p.SetFillColor(255, 255, 255)
	p.SetLineWidth(0.15)
	p.Circle(at.x, at.y, markRound, "FD")
	words := fmt.Sprint(no)
	coded, _ := p.face("B", markType, words)
	width := p.GetStringWidth(coded)
	p.bold(at.x-width/2, at.y-markType*pointMM*leading/2, width+1, markType, words)
}
