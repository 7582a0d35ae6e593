package sheet

import (
	"strings"
	"sync"

	"github.com/go-pdf/fpdf"
	"github.com/golang/freetype/truetype"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
)

// Lines in Western letters are set in the core font, which no file has to carry.
// A line with other letters is set in the Go fonts (B. Blessed and K. Holmes for
// the Go project, BSD licence with golang.org/x/image), which have Greek and
// Cyrillic besides; only the letters used are put into the file.
const (
	coreFace = "Helvetica"
	wideFace = "Go"
)

// face chooses the font of a line and returns the line as that font codes it.
// Letters that neither has become question marks.
func (p *press) face(style string, size float64, s string) (coded string, wide bool) {
	s = strings.Map(printing, s)
	if !strings.ContainsFunc(s, func(r rune) bool { return !inCore(r) }) {
		p.SetFont(coreFace, style, size)
		return p.latin(s), false
	}
	if !p.wide {
		p.wide = true
		p.AddUTF8FontFromBytes(wideFace, "", goregular.TTF)
		p.AddUTF8FontFromBytes(wideFace, "B", gobold.TTF)
	}
	p.SetFont(wideFace, style, size)
	return strings.Map(inWide, s), true
}

// printing leaves blanks of one kind and nothing that controls a printer.
func printing(r rune) rune {
	switch {
	case r == '\t' || r == '\n' || r == '\r' || r == '\u00a0':
		return ' '
	case r < ' ' || r == 0x7f:
		return -1
	}
	return r
}

// inCore says whether the core fonts have a letter (Windows code page 1252).
func inCore(r rune) bool {
	return r < 0x7f || r >= 0xa1 && r <= 0xff || strings.ContainsRune("€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ", r)
}

// inWide is the letter, or a question mark where the Go fonts lack it.
func inWide(r rune) rune {
	if r > 0xffff || wideLetters().Index(r) == 0 {
		return '?'
	}
	return r
}

var wideLetters = sync.OnceValue(func() *truetype.Font {
	f, err := truetype.Parse(goregular.TTF)
	if err != nil {
		panic("sheet: " + err.Error()) // it comes with the program
	}
	return f
})

// ellipsis is the sign as the current font codes it.
func ellipsis(wide bool) string {
	if wide {
		return "…"
	}
	return "\x85" // code page 1252
}

// split breaks a coded line where it must to keep within w.
func (p *press) split(coded string, wide bool, w float64) (lines []string) {
	if wide {
		return p.SplitText(coded, w)
	}
	for _, l := range p.SplitLines([]byte(coded), w) {
		lines = append(lines, string(l))
	}
	return lines
}

// latin1252 turns text of code page 1252 into its bytes.
func latin1252(f *fpdf.Fpdf) func(string) string { return f.UnicodeTranslatorFromDescriptor("cp1252") }
