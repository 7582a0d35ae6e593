package report

import (
	"bytes"
	"fmt"
	"html/template"

	"fewtubes/gamut/colour"
)

// fragments are the same templates for a page that has its own head and may
// not hold inline styles: what colours a swatch goes into a data attribute. Only
// a definition that is not empty takes the place of another.
var fragments = template.Must(template.Must(templates.Clone()).
	Funcs(template.FuncMap{"fill": dataFill}).
	Parse(`{{define "head"}}{{""}}{{end}}{{define "foot"}}{{""}}{{end}}`))

// inlineFill colours an element of a page that stands alone.
func inlineFill(hex string) template.HTMLAttr {
	return template.HTMLAttr(fmt.Sprintf(`style="background:%s"%s`, template.HTMLEscapeString(hex), edged(hex)))
}

// dataFill leaves the colouring to the page's script.
func dataFill(hex string) template.HTMLAttr {
	return template.HTMLAttr(fmt.Sprintf(`data-fill="%s"%s`, template.HTMLEscapeString(hex), edged(hex)))
}

// renderFragment is render for a part of a page.
func renderFragment(name string, data any) ([]byte, error) {
	var b bytes.Buffer
	err := fragments.ExecuteTemplate(&b, name, data)
	return b.Bytes(), err
}

// Fragment is the body of HTML, for a page around it; every swatch carries its
// colour as data-fill="#rrggbb".
func (c *Choice) Fragment() ([]byte, error) { return renderFragment("choice.html", c.page()) }

// StyleSheet is the style of every page and fragment.
func StyleSheet() ([]byte, error) { return templateFiles.ReadFile("templates/page.css") }

// Hex is the nearest sRGB colour as #rrggbb.
func Hex(c colour.Lab) string { return hex(c) }
