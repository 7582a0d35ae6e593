package report

import (
	"bytes"
	"fmt"
	"html/template"
	"regexp"
	"strings"
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
	p, err := c.page()
	if err != nil {
		return nil, err
	}
	return render("curve.html", p)
}

// Fragment is the body of HTML, as Choice.Fragment; its charts take their inks
// from the page's style.
func (c *Curve) Fragment() ([]byte, error) {
	p, err := c.page()
	if err != nil {
		return nil, err
	}
	for i := range p.Charts {
		p.Charts[i] = unstyled(p.Charts[i])
	}
	return renderFragment("curve.html", p)
}

func (c *Curve) page() (curvePage, error) {
	p := curvePage{Curve: c, Heading: c.Title, ByTubes: c.rows(c.Points), ByPrices: c.rows(c.Prices)}
	for i, list := range [][]CurvePoint{c.Points, c.Prices} {
		if len(list) == 0 {
			continue
		}
		svg, err := c.panelSVG(i == 1)
		if err != nil {
			return p, err
		}
		// What stands before <svg> is for a file of its own.
		p.Charts = append(p.Charts, template.HTML(svg[max(0, bytes.Index(svg, []byte("<svg"))):]))
	}
	var ids []string
	for _, t := range c.Tubes {
		ids = append(ids, t.ID)
	}
	p.CautionList = c.choice.Cautions(Palette{Tubes: ids})
	return p, nil
}

func (c *Curve) rows(points []CurvePoint) (out []curveRow) {
	for _, pt := range points {
		out = append(out, curveRow{pt, c.choice.swatches(pt.Palette), pt.Tubes, c.choice.names(pt.Palette)})
	}
	return out
}

var styleAttribute = regexp.MustCompile(`style="([^"]*)"`)

// unstyled turns the style attributes of a drawing into presentation
// attributes, which a page that allows no inline style still follows.
func unstyled(svg template.HTML) template.HTML {
	plain := styleAttribute.ReplaceAllStringFunc(string(svg), func(attribute string) string {
		var b strings.Builder
		for rule := range strings.SplitSeq(styleAttribute.FindStringSubmatch(attribute)[1], ";") {
			if name, value, ok := strings.Cut(rule, ":"); ok && name != "font-family" {
				fmt.Fprintf(&b, `%s="%s" `, strings.TrimSpace(name), strings.TrimSpace(value))
			}
		}
		return strings.TrimSuffix(b.String(), " ")
	})
	return template.HTML(strings.Replace(plain, "<svg ", `<svg role="img" aria-label="Tightest tolerance held; the table below has the figures" `, 1))
}
