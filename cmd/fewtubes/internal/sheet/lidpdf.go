package sheet

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

const (
	lidType  = 8.0 // pt, nothing on the card is smaller
	lidExtra = 6.0 // mm that a colour gets at most beyond what it must have
)

// lidHeights of pictures, mm, the first that leaves room for the recipes.
var lidHeights = []float64{52, 38, 26}

const lidFoot = "Left the colour of the scene, right the mix; x: out of reach; * stronger than a screen or print shows. Paint a swatch before you trust one."

// errLidFull is for scenes of which the card cannot hold every colour in legible type.
var errLidFull = errors.New("the card for the lid has no room for so many colours at a legible size; leave some out of the scene, or print the page (--html) instead")

// PDF draws the card on one side of A4, the pictures smaller where the recipes need the
// room. It fails where the colours find none.
func (l *Lid) PDF() (pdf []byte, err error) {
	for _, height := range lidHeights {
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
	if err := p.thumbnails(l.Pictures, pictures); err != nil {
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
	return float64(line*float64(1+p.lines(width-lidIndent, lidType, m.lidWords()))) + 1
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
