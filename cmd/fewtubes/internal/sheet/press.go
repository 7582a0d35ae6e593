package sheet

import (
	"bytes"
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/go-pdf/fpdf"
)

const (
	margin   = 12.0 // mm; desk printers leave about 5 blank
	smallest = 7.0  // pt; below this print is hard to read (common practice, no source)
	pointMM  = 25.4 / 72
	leading  = 1.25
)

// press writes a PDF: lines of text, swatches, pages. Lengths are
// millimetres from the top left, type sizes points.
type press struct {
	*fpdf.Fpdf
	paper Paper
	latin func(string) string
	wide  bool    // the fonts of other letters are at hand
	y     float64 // where the next block begins
	foot  string

	widths []int // of the pictures so far, pixels
}

func newPress(paper Paper, title, foot string) *press {
	f := fpdf.NewCustom(&fpdf.InitType{
		OrientationStr: "P", UnitStr: "mm", Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height},
	})
	// The same sheet gives the same bytes: no clock, no map order.
	epoch := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	f.SetCreationDate(epoch)
	f.SetModificationDate(epoch)
	f.SetCatalogSort(true)
	f.SetProducer("fewtubes", false)
	f.SetTitle(title, true)
	f.SetMargins(margin, margin, margin)
	f.SetAutoPageBreak(false, 0)
	f.SetCellMargin(0)
	p := &press{Fpdf: f, paper: paper, latin: latin1252(f), foot: foot}
	f.SetFooterFunc(p.footer)
	p.newPage()
	return p
}

func (p *press) newPage() {
	p.AddPage()
	p.y = margin
}

func (p *press) footer() {
	if p.foot == "" {
		return
	}
	p.text(margin, p.paper.Height-margin+2, p.inner()-20, smallest, p.foot)
	p.SetXY(p.paper.Width-margin-20, p.paper.Height-margin+2)
	p.CellFormat(20, smallest*pointMM*leading, fmt.Sprintf("page %d", p.PageNo()), "", 0, "R", false, 0, "")
}

// inner is the width between the margins.
func (p *press) inner() float64 { return p.paper.Width - 2*margin }

// room starts a new page unless h millimetres are left above the footer.
func (p *press) room(h float64) {
	if p.y+h > p.paper.Height-margin-2 {
		p.newPage()
	}
}

// text writes one line, cut to the width with an ellipsis.
func (p *press) text(x, y, w, size float64, s string) {
	p.line("", x, y, w, size, s)
}

func (p *press) bold(x, y, w, size float64, s string) {
	p.line("B", x, y, w, size, s)
}

func (p *press) line(style string, x, y, w, size float64, s string) {
	coded, wide := p.face(style, size, s)
	p.SetTextColor(0, 0, 0)
	p.SetXY(x, y)
	p.CellFormat(w, size*pointMM*leading, p.cut(coded, wide, w), "", 0, "L", false, 0, "")
}

// cut shortens coded text to a width in the current font.
func (p *press) cut(s string, wide bool, w float64) string {
	if p.GetStringWidth(s) <= w {
		return s
	}
	end := ellipsis(wide)
	for len(s) > 0 && p.GetStringWidth(s+end) > w {
		last := 1
		if wide {
			_, last = utf8.DecodeLastRuneInString(s)
		}
		s = s[:len(s)-last]
	}
	return s + end
}

// fitting is the size, at most the one given and no less than the smallest, at
// which a line fits a width.
func (p *press) fitting(style string, w, size float64, s string) float64 {
	for ; size > smallest; size -= 0.5 {
		if coded, _ := p.face(style, size, s); p.GetStringWidth(coded) <= w {
			return size
		}
	}
	return smallest
}

// paragraph writes wrapped text at the next block and moves below it.
func (p *press) paragraph(size float64, s string) {
	p.y = p.wrapped(margin, p.y, p.inner(), size, s) + 1
}

// wrapped writes text over as many lines as it takes and returns the y below.
func (p *press) wrapped(x, y, w, size float64, s string) float64 {
	coded, wide := p.face("", size, s)
	return p.stacked(p.split(coded, wide, w), x, y, w, size)
}

// title heads a sheet: smaller where it is long, over two lines at most.
func (p *press) title(s string) {
	size := max(11, p.fitting("B", p.inner(), 16, s))
	coded, wide := p.face("B", size, s)
	lines := p.split(coded, wide, p.inner())
	if len(lines) > 2 {
		lines = []string{lines[0], p.cut(strings.Join(lines[1:], " "), wide, p.inner())}
	}
	p.y = p.stacked(lines, margin, p.y, p.inner(), size)
}

// noted writes one bold line: a name, cut where it must be, and a note behind it
// that is not.
func (p *press) noted(x, y, w, size float64, name, note string) {
	if coded, _ := p.face("B", size, name+" "+note); p.GetStringWidth(coded) <= w {
		p.bold(x, y, w, size, name+" "+note)
		return
	}
	coded, _ := p.face("B", size, " "+note)
	room := w - p.GetStringWidth(coded)
	coded, wide := p.face("B", size, name)
	width := p.GetStringWidth(p.cut(coded, wide, room))
	p.bold(x, y, room, size, name)
	p.bold(x+width, y, w-width, size, " "+note)
}

// stacked writes coded lines one below the other and returns the y below.
func (p *press) stacked(lines []string, x, y, w, size float64) float64 {
	p.SetTextColor(0, 0, 0)
	h := float64(size * pointMM * leading)
	for _, l := range lines {
		p.SetXY(x, y)
		p.CellFormat(w, h, l, "", 0, "L", false, 0, "")
		y += h
	}
	return y
}

// lines counts the lines wrapped would write.
func (p *press) lines(w, size float64, s string) int {
	coded, wide := p.face("", size, s)
	return len(p.split(coded, wide, w))
}

func (p *press) heading(s string) {
	p.bold(margin, p.y, p.inner(), 11, s)
	p.y += 11*pointMM*leading + 1
}

// swatch fills a rectangle with the colour, thinly outlined.
func (p *press) swatch(x, y, w, h float64, s Swatch) {
	p.SetFillColor(int(s.RGB[0]), int(s.RGB[1]), int(s.RGB[2]))
	p.Rect(x, y, w, h, "F")
	p.frame(x, y, w, h)
}

// pair fills a rectangle with two colours that touch, so that a difference shows.
func (p *press) pair(x, y, w, h float64, left, right Swatch) {
	for i, s := range []Swatch{left, right} {
		p.SetFillColor(int(s.RGB[0]), int(s.RGB[1]), int(s.RGB[2]))
		p.Rect(x+float64(float64(i)*w/2), y, w/2, h, "F")
	}
	p.frame(x, y, w, h)
}

// frame outlines room to paint in.
func (p *press) frame(x, y, w, h float64) {
	p.SetDrawColor(150, 150, 150)
	p.SetLineWidth(0.1)
	p.Rect(x, y, w, h, "D")
}

// ruler draws a 100 mm line, to check that the print came out at full size.
func (p *press) ruler() {
	p.SetDrawColor(0, 0, 0)
	p.SetLineWidth(0.2)
	p.Line(margin, p.y+2, margin+100, p.y+2)
	for i := 0; i <= 10; i++ {
		x := margin + float64(10*float64(i))
		p.Line(x, p.y+1, x, p.y+3)
	}
	p.text(margin+103, p.y+0.4, p.inner()-103, smallest, "100 mm: print at actual size (100 %), not fitted to the page")
	p.y += 5
}

// finish returns the PDF.
func (p *press) finish() ([]byte, error) {
	var b bytes.Buffer
	if err := p.Output(&b); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
