package report

import (
	"bytes"
	"html/template"
)

type curvePage struct {
	*Curve
	Heading           string
	ByTubes, ByPrices []curveRow
	Charts            []template.HTML
	CautionList       []Caution
}

type curveRow struct {
	CurvePoint
	Tubes []tubeSwatch
	Count int
	Names []string
}

// HTML is the curve as one printable page.
func (c *Curve) HTML() ([]byte, error) {
	p := curvePage{Curve: c, Heading: c.Title, ByTubes: c.rows(c.Points), ByPrices: c.rows(c.Prices)}
	for i, list := range [][]CurvePoint{c.Points, c.Prices} {
		if len(list) == 0 {
			continue
		}
		svg, err := c.panelSVG(i == 1)
		if err != nil {
			return nil, err
		}
		// What stands before <svg> is for a file of its own.
		p.Charts = append(p.Charts, template.HTML(svg[max(0, bytes.Index(svg, []byte("<svg"))):]))
	}
	var ids []string
	for _, t := range c.Tubes {
		ids = append(ids, t.ID)
	}
	p.CautionList = c.choice.Cautions(Palette{Tubes: ids})
	return render("curve.html", p)
}

func (c *Curve) rows(points []CurvePoint) (out []curveRow) {
	for _, pt := range points {
		out = append(out, curveRow{pt, c.choice.swatches(pt.Palette), pt.Tubes, c.choice.names(pt.Palette)})
	}
	return out
}
