package tubelist

import (
	"fmt"

	"fewtubes/catalog"
	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

type cataloguePage struct {
	Kind, Heading, Key, MunsellNote string
	Tubes                           []cataloguePageTube
}

type cataloguePageTube struct {
	TubeFull
	Masstone, Tint string // #rrggbb
	Lines          []Fact
}

// HTML is the catalogue as one printable page; a tube alone is told in full.
func (c *Catalogue) HTML() ([]byte, error) {
	p := cataloguePage{
		Kind:        fmt.Sprintf("Left straight from the tube, right one part of it in %d of white, under %s", catalog.SwatchParts, c.seenUnder()),
		Heading:     shown.Capital(shown.Counted(len(c.Tubes), "tube")),
		Key:         swatchKey,
		MunsellNote: c.MunsellNote,
	}
	if c.Draw > 0 {
		p.Kind += fmt.Sprintf(". Plausible box %d: each tube as it may be from another maker", c.Draw)
	}
	alone := len(c.Tubes) == 1
	if alone {
		p.Heading, p.Key = c.Tubes[0].Name, ""
	}
	for _, t := range c.Tubes {
		lines := t.briefFacts()
		if alone {
			lines = t.Facts(c.seenUnder())
		}
		p.Tubes = append(p.Tubes, cataloguePageTube{t, shown.Hex(t.Lab.Colour()), shown.Hex(t.TintLab.Colour()), lines})
	}
	return printable.Render("tubes.html", p)
}

const swatchKey = "Value runs from 0, black, to 10, white; chroma and hue are those of CIELAB. Tinting strength is ΔE00 between the tint and the white: " +
	"a strong tinter stands over 25, a weak one below 15. Measured: published K and S of that pigment. Fitted: readings fitted by this program. " +
	"Estimated: the source does not settle K and S. " +
	"Lightfastness is the ASTM D4303 class usually reported in oil; I is best."
