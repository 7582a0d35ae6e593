package curves

import (
	"html/template"

	"fewtubes/cmd/fewtubes/internal/report"
	"fewtubes/cmd/fewtubes/internal/report/printable"
	"fewtubes/cmd/fewtubes/internal/report/shown"
)

type curvePage struct {
	*Curve
	Heading           string
	ByTubes, ByPrices []curveRow
	Charts            []template.HTML
	CautionList       []shown.Caution
}

type curveRow struct {
	CurvePoint
	Tubes []report.TubeSwatch
	Count int
	Names []string
}

// HTML is the curve as one printable page.
func (c *Curve) HTML() ([]byte, error) { return printable.Render("curve.html", c.page()) }

// Fragment is the body of HTML, as Choice.Fragment.
func (c *Curve) Fragment() ([]byte, error) { return printable.Fragment("curve.html", c.page()) }

func (c *Curve) page() curvePage {
	p := curvePage{Curve: c, Heading: c.Title, ByTubes: c.rows(c.Points), ByPrices: c.rows(c.Prices)}
	for i, list := range [][]CurvePoint{c.Points, c.Prices} {
		if len(list) > 0 {
			p.Charts = append(p.Charts, panelSVG(list, i == 1))
		}
	}
	if len(c.Sure) > 0 {
		p.Charts = append(p.Charts, c.surePanel().svg("Boxes in which the best palette holds; the table below has the figures"))
	}
	var ids []string
	for _, t := range c.Tubes {
		ids = append(ids, t.ID)
	}
	p.CautionList = c.choice.Cautions(report.Palette{Tubes: ids})
	return p
}

// SureRows are the points of the curve of boxes.
func (c *Curve) SureRows() (out []sureRow) {
	for _, pt := range c.Sure {
		out = append(out, sureRow{pt, c.choice.Swatches(pt.Palette), c.choice.Names(pt.Palette)})
	}
	return out
}

type sureRow struct {
	Point SurePoint
	Tubes []report.TubeSwatch
	Names []string
}

// Words are the boxes of a row.
func (r sureRow) Words() string { return r.Point.words() }

func (c *Curve) rows(points []CurvePoint) (out []curveRow) {
	for _, pt := range points {
		out = append(out, curveRow{pt, c.choice.Swatches(pt.Palette), pt.Tubes, c.choice.Names(pt.Palette)})
	}
	return out
}
