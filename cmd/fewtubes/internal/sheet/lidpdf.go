package sheet

import (
	"bytes"
	"errors"
	"fmt"
	"image/jpeg"
	"math"
	"slices"
	"strings"

	"fewtubes/gamut/portable"

	"github.com/go-pdf/fpdf"
)

const (
	lidType   = 8.0 // pt, nothing on the card is smaller
	lidExtra  = 6.0 // mm that a colour gets at most beyond what it must have
	markRound = 2.1 // mm
)

// thumbHeights of pictures, mm, the first that leaves room for the recipes.
var thumbHeights = []float64{52, 38, 26}

const lidFoot = "Left the colour of the scene, right the mix; x: out of reach; * stronger than a screen or print shows. Paint a swatch before you trust one."

// errLidFull is for scenes of which the card cannot hold every colour in legible type.
var errLidFull = errors.New("the card for the lid has no room for so many colours at a legible size; leave some out of the scene, or print the page (--html) instead")

// PDF draws the card on one side of A4, the pictures smaller where the recipes need the
// room. It fails where the colours find none.
func (l *Lid) PDF() (pdf []byte, err error) {
	for _, height := range thumbHeights {
		if pdf, err = l.draw(height); !errors.Is(err, errLidFull) {
			break
		}
	}
	return pdf, err
}

func (l *Lid) draw(pictures float64) ([]byte, error) {
	p := newPress(A4, l.Title, "")
	p.title(l.Title)
	p.y += 2
	if err := l.drawPictures(p, pictures); err != nil {
		return nil, err
	}
	l.drawTubes(p)
	close := lidFoot + " " + l.Close
	height := float64(float64(p.lines(p.inner(), lidType, close)) * lidType * pointMM * leading)
	foot := p.paper.Height - margin - height
	if !l.drawMixes(p, foot-1-p.y) {
		return nil, errLidFull
	}
	p.wrapped(margin, foot, p.inner(), lidType, close)
	return p.finish()
}

// drawPictures puts the pictures side by side, as high as all of them find room.
func (l *Lid) drawPictures(p *press, most float64) error {
	wide := 0.0 // of all together at a height of one
	for _, t := range l.Pictures {
		wide += t.shape()
	}
	if wide == 0 {
		return nil
	}
	gaps := 3 * float64(len(l.Pictures)-1)
	height := min(most, (p.inner()-gaps)/wide)
	x := margin
	for i, t := range l.Pictures {
		width := height * t.shape()
		if t.Picture == nil {
			p.frame(x, p.y, width, height)
			p.wrapped(x+2, p.y+2, width-4, lidType, t.Words)
		} else if err := p.picture(fmt.Sprint("picture", i), x, p.y, width, height, t); err != nil {
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
	size := t.Picture.Bounds().Size()
	return min(max(float64(size.X)/float64(size.Y), 0.2), 5)
}

// picture puts a picture on the page, as JPEG.
func (p *press) picture(name string, x, y, w, h float64, t Thumbnail) error {
	var data bytes.Buffer
	if err := jpeg.Encode(&data, t.Picture, &jpeg.Options{Quality: 88}); err != nil {
		return err
	}
	options := fpdf.ImageOptions{ImageType: "JPEG"}
	p.RegisterImageOptionsReader(name, options, &data)
	p.ImageOptions(name, x, y, w, h, false, options, 0, "")
	p.frame(x, y, w, h)
	return p.Error()
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
	coded, _ := p.face("B", lidType, words)
	width := p.GetStringWidth(coded)
	p.bold(at.x-width/2, at.y-lidType*pointMM*leading/2, width+1, lidType, words)
}

func (l *Lid) drawTubes(p *press) {
	const across = 3
	width := (p.inner() + gutter) / across
	for i, t := range l.Tubes {
		x := margin + float64(width*float64(i%across))
		p.swatch(x, p.y, 7, 7, t.Mass)
		p.bold(x+8.5, p.y-0.1, width-gutter-8.5, lidType, upperFirst(t.Short)+star(t.Mass))
		p.text(x+8.5, p.y+3.4, width-gutter-8.5, lidType, t.Facts)
		if i%across == across-1 || i == len(l.Tubes)-1 {
			p.y += 8.5
		}
	}
	for i, words := range l.Prepared {
		x := margin + float64(width*float64(i%across))
		p.text(x, p.y, width-2, lidType, words)
		if i%across == across-1 || i == len(l.Prepared)-1 {
			p.y += lidType * pointMM * leading
		}
	}
	p.y += 2
}

// drawMixes puts the colours in two columns, with room between them where there is
// some, and reports whether they fit.
func (l *Lid) drawMixes(p *press, room float64) bool {
	width := float64((p.inner() - gutter) / 2)
	rows := (len(l.Mixes) + 1) / 2
	heights := make([]float64, len(l.Mixes))
	var columns [2]float64
	for i := range l.Mixes {
		heights[i] = lidMixHeight(p, &l.Mixes[i], width)
		columns[i/rows] += heights[i]
	}
	extra := min((room-max(columns[0], columns[1]))/float64(max(rows, 1)), lidExtra)
	if extra < 0 {
		return false
	}
	y := p.y
	for i := range l.Mixes {
		if i == rows {
			y = p.y
		}
		x := margin + float64(float64(i/rows)*(width+gutter))
		drawLidMix(p, i+1, &l.Mixes[i], x, y, width, heights[i]+extra)
		y += heights[i] + extra
	}
	return true
}

const (
	lidBox    = 9.0 // mm, each half of a pair
	lidIndent = 2*lidBox + 1.5
)

func lidMixHeight(p *press, m *LidMix, width float64) float64 {
	line := lidType * pointMM * leading
	return line*float64(1+p.lines(width-lidIndent, lidType, m.lidWords())) + 1
}

func drawLidMix(p *press, no int, m *LidMix, x, y, width, height float64) {
	p.pair(x, y, 2*lidBox, height-1.2, m.Target, m.Mixed)
	name := fmt.Sprintf("%d %s", no, m.Name)
	if m.Out {
		name = fmt.Sprintf("%d x %s", no, m.Name)
	}
	note := fmt.Sprintf("%.2f", math.Round(m.DE*100)/100)
	if m.Target.Clipped || m.Mixed.Clipped {
		note += " *"
	}
	p.noted(x+lidIndent, y-0.4, width-lidIndent, lidType, name, note)
	p.wrapped(x+lidIndent, y-0.4+lidType*pointMM*leading, width-lidIndent, lidType, m.lidWords())
}

// lidWords are the recipe and, of a colour out of reach, what is wrong with it.
func (m *LidMix) lidWords() string {
	if m.Reached {
		return m.Recipe
	}
	_, wrong, _ := strings.Cut(m.Words, ": ")
	return m.Recipe + " (" + wrong + ")"
}
