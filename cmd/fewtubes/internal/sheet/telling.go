package sheet

import (
	"fmt"

	"fewtubes/catalog"
	"fewtubes/gamut/colour"
	"fewtubes/gamut/film"
)

// ToPaint is a sheet of mixtures to paint and read, each with room beside.
type ToPaint struct {
	Title string
	Light string
	Tubes []catalog.Tube
	Mixes []MixToPaint
}

// MixToPaint is one of them.
type MixToPaint struct {
	Swatch Swatch // of Tubes of the sheet, as foretold
	Words  string // its parts
	Within float64
}

// NewToPaint works out a sheet of mixtures, parts by tube, each foretold within so much of
// CIEDE2000.
func NewToPaint(title string, tubes []catalog.Tube, parts [][]int, words []string, within []float64, light *colour.Light, surface film.Surface) *ToPaint {
	e := easel{light, surface}
	s := &ToPaint{Title: title, Light: light.Name, Tubes: tubes}
	for i := range parts {
		s.Mixes = append(s.Mixes, MixToPaint{e.swatch(tubes, parts[i]), words[i], within[i]})
	}
	return s
}

const toPaintFoot = "* outside what screens and printers show: printed duller than the paint. Computed colours, opaque films: what the program expects."

// PDF draws the sheet.
func (s *ToPaint) PDF(paper Paper) ([]byte, error) {
	const height, printed, blank = 28.0, 30.0, 60.0 // mm
	p := newPress(paper, s.Title, toPaintFoot)
	p.title(s.Title)
	p.y++
	p.ruler()
	p.paragraph(nameSize, fmt.Sprintf("Mix each by volume, exactly as it says, and paint it into the empty field, thick enough to hide the paper. Let it dry. Then read it: with an instrument, "+
		"by the chip of a colour book that is nearest, or in a photograph beside a grey card, and write the colour down. The printed field is what the program expects in %s. "+
		"Do not correct a mixture to match it: what differs is what there is to learn.", lightWords(s.Light)))
	p.y += 2
	for i, m := range s.Mixes {
		p.room(height + 4)
		p.swatch(margin, p.y, printed, height, m.Swatch)
		p.frame(margin+printed, p.y, blank, height)
		x, w := margin+printed+blank+4, p.inner()-printed-blank-4
		y := p.wrapped(x, p.y+0.5, w, nameSize, fmt.Sprintf("%d.  %s%s", i+1, m.Words, star(m.Swatch)))
		p.text(x, y+1, w, labelSize, fmt.Sprintf("expected: value %.1f, within %.0f (ΔE00, nine in ten)", m.Swatch.Lab.L/10, m.Within))
		p.text(x, p.y+height-5, w, labelSize, "what it came to: ______________________")
		p.y += height + 4
	}
	drawCautions(p, s.Tubes)
	return p.finish()
}
